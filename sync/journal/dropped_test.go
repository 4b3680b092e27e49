package journal

import (
	"bytes"
	"testing"

	"jointwalk/sync/journal/badfile"
)

// inFiles says whether bytes stand in any file, flushed or not.
func inFiles(files []*badfile.File, content []byte) bool {
	for _, f := range files {
		if bytes.Contains(f.Bytes(), content) {
			return true
		}
	}
	return false
}

// Of a picture that is dropped no byte stays, sent or not; its neighbours stay, and it may come again.
func TestDroppedPictures(t *testing.T) {
	p, files := newPool(t, 6)
	var hashes []string
	var all [][]byte
	for n := range 4 {
		h, b := image(n + 1)
		hashes, all = append(hashes, h), append(all, b)
		if err := p.Pictures().Add(h, b, taken); err != nil {
			t.Fatal(err)
		}
	}
	confirmed, waiting, last := hashes[0], hashes[1], hashes[3]
	if p.Pictures().Confirm(confirmed) != nil {
		t.Fatal("Confirm")
	}
	for _, h := range []string{confirmed, waiting, last, last, Hash([]byte("never here"))} {
		if err := p.Pictures().Drop(h); err != nil {
			t.Fatal(err)
		}
	}
	check := func() {
		t.Helper()
		list := p.Pictures().List()
		if len(list) != 1 || list[0].Hash != hashes[2] || p.Pictures().Waiting() != 1 || !bytes.Equal(must(p.Pictures().Read(hashes[2])), all[2]) {
			t.Errorf("%+v", list)
		}
		for _, n := range []int{0, 1, 3} {
			if _, err := p.Pictures().Read(hashes[n]); CodeOf(err) != CodeNoPicture || inFiles(files, all[n][:20]) {
				t.Errorf("picture %d: %v", n, err)
			}
		}
		if err := p.Check(); err != nil {
			t.Error(err)
		}
	}
	check()
	p, files = restart(t, files, 0, uid(2))
	check()
	if p.Report().Bad != 0 || len(p.State().Keys(droppedKey)) != 0 {
		t.Errorf("after a start: %+v, %v", p.Report(), p.State().Keys(droppedKey))
	}
}

// What was confirmed and dropped waits again when it comes again.
func TestADroppedPictureComesAgain(t *testing.T) {
	p, files := newPool(t, 6)
	h, b := image(1)
	pics := p.Pictures()
	if pics.Add(h, b, taken) != nil || pics.Confirm(h) != nil || pics.Drop(h) != nil || pics.Add(h, b, taken) != nil {
		t.Fatal("Add, Confirm, Drop, Add")
	}
	for n := range 2 {
		if list := p.Pictures().List(); len(list) != 1 || list[0].Confirmed || !bytes.Equal(must(p.Pictures().Read(h)), b) {
			t.Errorf("start %d: %+v", n, list)
		}
		p, files = restart(t, files, 0, uid(2+n))
	}
}

// Wherever the power goes while a picture is dropped, it is whole or on its way out, and the next start ends it.
func TestACrashWhileAPictureIsDropped(t *testing.T) {
	h, b := image(1)
	for left := range 6 {
		for _, keep := range []int{0, 9, 60, 1 << 20} {
			p, files := newPool(t, 6)
			if p.Pictures().Add(h, b, taken) != nil {
				t.Fatal("Add")
			}
			power := &badfile.Power{Left: left}
			for _, f := range files {
				f.Power = power
			}
			done := p.Pictures().Drop(h) == nil
			p, files = restart(t, files, keep, uid(2))
			got, err := p.Pictures().Read(h)
			whole := err == nil && bytes.Equal(got, b) && !done
			gone := CodeOf(err) == CodeNoPicture && !inFiles(files, b[:20]) && p.Pictures().Waiting() == 0
			if !whole && !gone || p.Report().Bad != 0 || p.Check() != nil {
				t.Errorf("power for %d, %d bytes kept: %v %+v", left, keep, err, p.Pictures().List())
			}
		}
	}
}

// A write that fails is told; the picture is dropped when it is asked for again.
func TestADropThatFails(t *testing.T) {
	h, b := image(1)
	for _, flaw := range []badfile.Flaw{badfile.ShortCount, badfile.Refused, badfile.LyingCount, badfile.WriteError, badfile.Flipped, badfile.SilentLoss, badfile.SyncError} {
		p, files := newPool(t, 6)
		if p.Pictures().Add(h, b, taken) != nil {
			t.Fatal("Add")
		}
		file := p.Pictures().newest().tape.file.(*badfile.File)
		file.Break(flaw)
		if err := p.Pictures().Drop(h); err == nil || p.Pictures().Waiting() != 0 {
			t.Errorf("flaw %d: %v, %d wait", flaw, err, p.Pictures().Waiting())
		}
		if err := p.Pictures().Drop(h); err != nil || inFiles(files, b[:20]) {
			t.Errorf("flaw %d, again: %v", flaw, err)
		}
		if p.Pictures().Add(h, b, taken) != nil {
			t.Fatal("Add")
		}
		p.Pictures().newest().tape.file.(*badfile.File).Break(flaw)
		_ = p.Pictures().Drop(h) // told above
		if err := p.Pictures().Add(h, b, taken); err != nil || !bytes.Equal(must(p.Pictures().Read(h)), b) {
			t.Errorf("flaw %d, comes again over what is left of it: %v", flaw, err)
		}
	}
}

// A drop that failed, and whose mark could not be taken back either, must not come true after the picture was added again.
func TestAFailedDropDoesNotComeTrueLater(t *testing.T) {
	for _, mended := range []bool{true, false} {
		p, files := newPool(t, 6)
		h, b := image(1)
		if p.Pictures().Add(h, b, taken) != nil {
			t.Fatal("Add")
		}
		file := p.State().tape.file.(*badfile.File)
		file.BreakFor(badfile.SyncError, badfile.CutError)
		if p.Pictures().Drop(h) == nil {
			t.Fatal("dropped, and the mark was not flushed")
		}
		if mended {
			file.Break()
		}
		if err := p.Pictures().Add(h, b, taken); (err == nil) != mended {
			t.Fatalf("mended %v: %v", mended, err)
		}
		p, _ = restart(t, files, 1<<20, uid(2))
		if list := p.Pictures().List(); mended && len(list) != 1 {
			t.Errorf("%+v", list)
		}
	}
}
