package journal

import (
	"bytes"
	"fmt"
	"testing"

	"jointwalk/sync/journal/badfile"
)

// image makes bytes with newlines, tabs and zeros in them.
func image(n int) (string, []byte) {
	b := bytes.Repeat([]byte{byte(n), '\n', '\t', 0, '{', '"', 0xff}, 50+n)
	return Hash(b), b
}

func TestPictures(t *testing.T) {
	p, files := newPool(t, 6)
	h1, b1 := image(1)
	h2, b2 := image(2)
	pics := p.Pictures()
	if pics.Add(h1, b1) != nil || pics.Add(h2, b2) != nil || pics.Add(h1, b1) != nil {
		t.Fatal("Add")
	}
	check := func(pics *Pictures, want string) {
		t.Helper()
		if got := fmt.Sprint(pics.List()); got != want {
			t.Errorf("%s, want %s", got, want)
		}
	}
	check(pics, fmt.Sprint([]Picture{{h1, len(b1), false}, {h2, len(b2), false}}))
	if err := pics.Confirm(h1); err != nil {
		t.Fatal(err)
	}
	p, files = restart(t, files, 0, uid(2))
	pics = p.Pictures()
	check(pics, fmt.Sprint([]Picture{{h1, len(b1), true}, {h2, len(b2), false}}))
	if got := must(pics.Read(h2)); !bytes.Equal(got, b2) || pics.Waiting() != 1 || pics.Damage().Bad != 0 {
		t.Error("other bytes came back")
	}
	if pics.Confirm(h2) != nil || len(pics.List()) != 0 || len(p.State().Keys(pictureKey)) != 0 || pics.tape.end != pics.start {
		t.Errorf("not emptied: %v", pics.List())
	}
	if pics.Add(h1, b1) != nil || pics.Waiting() != 1 {
		t.Error("the emptied file is not used again")
	}
	p, _ = restart(t, files, 0, uid(3))
	if !bytes.Equal(must(p.Pictures().Read(h1)), b1) {
		t.Error("the picture in the emptied file is gone")
	}
}

func TestPicturesRefuse(t *testing.T) {
	p, _ := newPool(t, 6)
	h, b := image(1)
	for name, err := range map[string]error{"hash": p.Pictures().Add(h, b[1:]), "empty": p.Pictures().Add(Hash(nil), nil),
		"too large": p.Pictures().Add(Hash(make([]byte, MaxPicture+1)), make([]byte, MaxPicture+1))} {
		if CodeOf(err) != CodeBadPicture {
			t.Errorf("%s: %v", name, err)
		}
	}
	if _, err := p.Pictures().Read(h); CodeOf(err) != CodeNoPicture {
		t.Error(err)
	}
	if p.Pictures().Confirm(h) != nil || p.Pictures().Waiting() != 0 {
		t.Error("an unknown picture was confirmed")
	}
	small, _ := newPool(t, 3)
	if err := small.Pictures().Add(h, b); CodeOf(err) != CodeNoRoomForSite {
		t.Errorf("took the state's spare file: %v", err)
	}
}

func TestPicturesTornAtEveryByte(t *testing.T) {
	p, files := newPool(t, 6)
	h1, b1 := image(1)
	h2, b2 := image(2)
	p.Pictures().Add(h1, b1)
	files[2].Power = &badfile.Power{}
	if p.Pictures().Add(h2, b2) == nil {
		t.Fatal("kept without power")
	}
	for keep := 0; keep <= files[2].Pending(); keep++ {
		p, after := restart(t, files, keep, uid(2))
		if n := p.Pictures().Waiting(); n != 1 && (n != 2 || keep < files[2].Pending()) || !bytes.Equal(must(p.Pictures().Read(h1)), b1) {
			t.Fatalf("torn after %d bytes: %d pictures", keep, n)
		}
		if p.Pictures().Add(h2, b2) != nil {
			t.Fatal("Add after the crash")
		}
		p, _ = restart(t, after, 0, uid(3))
		if !bytes.Equal(must(p.Pictures().Read(h2)), b2) || p.Pictures().Damage().Bad != 0 {
			t.Fatalf("torn after %d bytes: the next picture is damaged", keep)
		}
	}
}

func TestPicturesAfterEveryFlaw(t *testing.T) {
	h1, b1 := image(1)
	h2, b2 := image(2)
	for _, flaw := range badfile.Flaws {
		if flaw == badfile.CutError {
			continue
		}
		p, files := newPool(t, 6)
		p.Pictures().Add(h1, b1)
		files[2].Break(flaw)
		if err := p.Pictures().Add(h2, b2); CodeOf(err) == "" || p.Pictures().Waiting() != 1 {
			t.Errorf("flaw %d: %v", flaw, err)
		}
		if p.Pictures().Add(h2, b2) != nil {
			t.Errorf("flaw %d lasts", flaw)
		}
		p, _ = restart(t, files, 0, uid(2))
		if !bytes.Equal(must(p.Pictures().Read(h1)), b1) || !bytes.Equal(must(p.Pictures().Read(h2)), b2) {
			t.Errorf("flaw %d: pictures are damaged", flaw)
		}
	}
}

// A crash at each call of the confirmation of the last picture never brings it back as waiting once confirmed.
func TestConfirmDiesAtEachCall(t *testing.T) {
	h, b := image(1)
	for left := 0; ; left++ {
		p, files := newPool(t, 6)
		p.Pictures().Add(h, b)
		power := &badfile.Power{Left: left}
		for _, f := range files {
			f.Power = power
		}
		err := p.Pictures().Confirm(h)
		for keep := range 200 {
			again, _ := restart(t, files, keep, uid(2))
			pics := again.Pictures()
			if err == nil && (pics.Waiting() != 0 || len(again.State().Keys(pictureKey)) != 0) {
				t.Fatalf("power for %d calls: confirmed, yet it waits", left)
			}
			if pics.Waiting() == 1 && !bytes.Equal(must(pics.Read(h)), b) {
				t.Fatalf("power for %d calls: it waits, damaged", left)
			}
			if pics.Waiting() == 0 && len(pics.List()) != 0 {
				t.Fatalf("power for %d calls: not emptied at the next start", left)
			}
		}
		if power.Left >= 0 {
			return
		}
	}
}

func TestADamagedPictureOrHead(t *testing.T) {
	p, files := newPool(t, 6)
	var hashes []string
	for n := 1; n <= 3; n++ {
		h, b := image(n)
		hashes = append(hashes, h)
		p.Pictures().Add(h, b)
	}
	second := p.Pictures().entries[1].offset
	for name, at := range map[string]int64{"bytes": second + 10, "head": second - 30} {
		data := files[2].Bytes()
		data[at] ^= 1
		hurt := append([]*badfile.File{}, files...)
		hurt[2] = badfile.New(data)
		p, _ := restart(t, hurt, 0, uid(2))
		if _, err := p.Pictures().Read(hashes[1]); CodeOf(err) == "" {
			t.Errorf("%s: the damage went unseen", name)
		}
		must(p.Pictures().Read(hashes[0]))
		must(p.Pictures().Read(hashes[2]))
		if bad := p.Pictures().Damage().Bad; (bad > 0) != (name == "head") {
			t.Errorf("%s: %d bad", name, bad)
		}
	}
}
