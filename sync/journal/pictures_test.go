package journal

import (
	"bytes"
	"errors"
	"fmt"
	"testing"

	"jointwalk/sync/journal/badfile"
)

const taken = "2026-03-04T05:06:07.089Z"

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
	if pics.Add(h1, b1, taken) != nil || pics.Add(h2, b2, taken) != nil || pics.Add(h1, b1, taken) != nil {
		t.Fatal("Add")
	}
	check := func(pics *Pictures, want string) {
		t.Helper()
		if got := fmt.Sprint(pics.List()); got != want {
			t.Errorf("%s, want %s", got, want)
		}
	}
	check(pics, fmt.Sprint([]Picture{{h1, len(b1), taken, false}, {h2, len(b2), taken, false}}))
	if err := pics.Confirm(h1); err != nil {
		t.Fatal(err)
	}
	p, files = restart(t, files, 0, uid(2))
	pics = p.Pictures()
	check(pics, fmt.Sprint([]Picture{{h1, len(b1), taken, true}, {h2, len(b2), taken, false}}))
	if got := must(pics.Read(h2)); !bytes.Equal(got, b2) || pics.Waiting() != 1 || pics.Damage().Bad != 0 {
		t.Error("other bytes came back")
	}
	if pics.Confirm(h2) != nil || pics.Waiting() != 0 || !bytes.Equal(must(pics.Read(h1)), b1) {
		t.Error("a confirmed picture does not stay while nothing wants its room")
	}
	p, files = restart(t, files, 0, uid(3))
	pics = p.Pictures()
	check(pics, fmt.Sprint([]Picture{{h1, len(b1), taken, true}, {h2, len(b2), taken, true}}))
	if pics.Unconfirm() != nil || pics.Waiting() != 2 || pics.Confirm(h2) != nil {
		t.Error("Unconfirm")
	}
	p, _ = restart(t, files, 0, uid(4))
	check(p.Pictures(), fmt.Sprint([]Picture{{h1, len(b1), taken, false}, {h2, len(b2), taken, true}}))
}

// shots are pictures of some size, each with its hash.
func shots(n int) (hashes []string, all [][]byte) {
	for i := range n {
		content := bytes.Repeat([]byte{byte(i), '\n', 7}, 1000)
		hashes, all = append(hashes, Hash(content)), append(all, content)
	}
	return hashes, all
}

// album is a pool of n files with count pictures, two in a file.
func album(t *testing.T, n, count int) (*Pool, []*badfile.File, []string, [][]byte) {
	t.Helper()
	p, files := newPool(t, n)
	p.Pictures().limit = 4000
	hashes, all := shots(count)
	for i, h := range hashes {
		if err := p.Pictures().Add(h, all[i], taken); err != nil {
			t.Fatal(err)
		}
	}
	return p, files, hashes, all
}

func TestPicturesTakeSeveralFiles(t *testing.T) {
	p, files, hashes, all := album(t, 8, 7)
	if len(p.pictures.files) != 4 || p.Report().Free != 2 {
		t.Fatalf("%d files, %+v", len(p.pictures.files), p.Report())
	}
	for n := range 2 {
		for i, picture := range p.Pictures().List() {
			if picture.Hash != hashes[i] || !bytes.Equal(must(p.Pictures().Read(hashes[i])), all[i]) {
				t.Errorf("start %d: picture %d", n, i)
			}
		}
		if err := p.Check(); err != nil || p.Report().Bad != 0 || p.Pictures().Waiting() != 7 {
			t.Error(err, p.Report())
		}
		p, files = restart(t, files, 0, uid(2+n))
	}
	p.Pictures().limit = 4000
	more, contents := shots(13)
	for i, h := range more[7:] { // one more file can be had, then the newest goes on: the state's spare is not taken
		if err := p.Pictures().Add(h, contents[7+i], taken); err != nil {
			t.Error(err)
		}
	}
	if len(p.pictures.files) != 5 || p.Report().Free != 1 {
		t.Errorf("%d files, %+v", len(p.pictures.files), p.Report())
	}
	p, _ = restart(t, files, 0, uid(9))
	for i, h := range more {
		if !bytes.Equal(must(p.Pictures().Read(h)), contents[i]) {
			t.Errorf("picture %d", i)
		}
	}
}

// A file of confirmed pictures is given back when a site, the log or a picture wants one, and not before; one in which
// a picture waits never is, and the newest only for pictures.
func TestConfirmedPicturesYieldTheirRoom(t *testing.T) {
	for name, want := range map[string]func(p *Pool) error{
		"site": func(p *Pool) error { _, err := p.Site("site-1"); return err },
		"log": func(p *Pool) error {
			p.log.limit = 1
			_, err := p.Log().Append(drafts(0, 1))
			if err == nil && len(p.own) == 1 {
				return fault("no", "other file")
			}
			return err
		},
	} {
		p, files, hashes, all := album(t, 6, 5) // three files, one free for the state
		for _, i := range []int{1, 2, 3, 4} {
			if err := p.Pictures().Confirm(hashes[i]); err != nil {
				t.Fatal(err)
			}
		}
		if err := want(p); err != nil || len(p.pictures.files) != 2 || p.Report().Free != 1 {
			t.Errorf("%s: %v, %d files of pictures, %d free", name, err, len(p.pictures.files), p.Report().Free)
		}
		if _, err := p.Site("site-2"); CodeOf(err) != CodeNoRoomForSite {
			t.Errorf("%s: a file in which a picture waits, or the newest, was given away: %v", name, err)
		}
		for n := range 2 {
			for i, h := range hashes {
				content, err := p.Pictures().Read(h)
				if given := i == 2 || i == 3; given != (CodeOf(err) == CodeNoPicture) || !given && !bytes.Equal(content, all[i]) {
					t.Errorf("%s: start %d: picture %d: %v", name, n, i, err)
				}
			}
			if p.Pictures().Waiting() != 1 || len(p.State().Keys(pictureKey)) != 2 {
				t.Errorf("%s: start %d: %d wait, %v", name, n, p.Pictures().Waiting(), p.State().Keys(pictureKey))
			}
			p, files = restart(t, files, 0, uid(2+n))
		}
	}
}

func TestAPictureTakesTheRoomOfConfirmedOnes(t *testing.T) {
	p, files, hashes, _ := album(t, 4, 2) // state, log, one of pictures, the state's spare
	more, contents := shots(4)
	if p.Pictures().Confirm(hashes[0]) != nil || p.Pictures().Add(more[2], contents[2], taken) != nil || len(p.Pictures().List()) != 3 {
		t.Error("the full file does not go on while a picture in it waits")
	}
	for _, h := range more[1:3] {
		p.Pictures().Confirm(h)
	}
	if p.Pictures().Add(more[3], contents[3], taken) != nil || len(p.Pictures().List()) != 1 || p.Pictures().Waiting() != 1 {
		t.Errorf("%v", p.Pictures().List())
	}
	p, _ = restart(t, files, 0, uid(2))
	if !bytes.Equal(must(p.Pictures().Read(more[3])), contents[3]) || len(p.Pictures().List()) != 1 || p.Report().Free != 1 {
		t.Error("the picture in the emptied file is gone")
	}
}

// On a full device confirmed pictures make room for what is saved; waiting ones stay.
func TestAFullDeviceTakesTheRoomOfConfirmedPictures(t *testing.T) {
	p, files, hashes, _ := album(t, 9, 5)
	files[1].Break(badfile.Refused)
	if _, err := p.Log().Append(drafts(0, 1)); CodeOf(err) != CodeStorageFull || len(p.pictures.files) != 3 {
		t.Errorf("%v, %d files of pictures", err, len(p.pictures.files))
	}
	for _, h := range hashes[:4] {
		p.Pictures().Confirm(h)
	}
	files[1].Break(badfile.Refused, badfile.ShortCount)
	saved := texts(must(p.Log().Append(drafts(0, 1))))
	if len(p.pictures.files) != 1 || p.Pictures().Waiting() != 1 {
		t.Errorf("%d files of pictures", len(p.pictures.files))
	}
	p, _ = restart(t, files, 0, uid(2))
	if !same(lines(t, p.Log()), saved) || p.Pictures().Waiting() != 1 || p.Check() != nil {
		t.Error("not as it was left")
	}
}

// What a compaction of the state writes is complete: nothing is put beside it while it looks for room.
func TestACompactionOnAFullDeviceForgetsNothing(t *testing.T) {
	p, files, hashes, _ := album(t, 9, 4)
	for _, h := range hashes {
		p.Pictures().Confirm(h)
	}
	for _, f := range files[4:] {
		f.BreakFor(badfile.Refused)
	}
	p.State().later, p.State().live = 0, 0
	if err := p.State().Set("k", 1); err != nil || len(p.pictures.files) != 2 {
		t.Errorf("%v, %d files of pictures", err, len(p.pictures.files))
	}
	for _, f := range files {
		f.Break()
	}
	p, _ = restart(t, files, 0, uid(2))
	if len(p.State().Keys(pictureKey)) != 4 || p.Pictures().Waiting() != 0 {
		t.Error(p.State().Keys(""))
	}
}

// Whatever it is that a full device makes room for, the state stays where it is meanwhile: moved, it would leave the write that
// waits for the room in a file that is no longer its own.
func TestTheStateStaysWhileRoomIsMade(t *testing.T) {
	for name, c := range map[string]struct {
		full int // file on which the device is full once
		want func(p *Pool) error
	}{
		"state": {0, func(p *Pool) error { return p.State().Set("k", 1) }},
		"site":  {4, func(p *Pool) error { _, err := p.Site("site-1"); return errors.Join(err, p.State().Set("k", 1)) }},
	} {
		p, files, hashes, _ := album(t, 9, 4)
		for _, h := range hashes {
			p.Pictures().Confirm(h)
		}
		p.State().later, p.State().live = 0, 0 // to be compacted with the next write
		files[c.full].Break(badfile.Refused)
		if err := c.want(p); err != nil || len(p.pictures.files) != 1 {
			t.Errorf("%s: %v, %d files of pictures", name, err, len(p.pictures.files))
		}
		pulled := pairs(t, logB, 0, 1)
		must(must(p.Site("site-1")).Append(pulled))
		p, _ = restart(t, files, 0, uid(2))
		if k, _ := p.State().Get("k"); string(k) != "1" || len(p.State().Keys(pictureKey)) != 2 || p.Report().Bad != 0 {
			t.Errorf("%s: %s %v, report %+v", name, k, p.State().Keys(""), p.Report())
		}
		if !same(held(t, must(p.Site("site-1"))), whole(pulled)) {
			t.Errorf("%s: the feed is gone", name)
		}
	}
}

func TestPicturesRefuse(t *testing.T) {
	p, _ := newPool(t, 6)
	h, b := image(1)
	for name, err := range map[string]error{"time": p.Pictures().Add(h, b, "today"), "no time": p.Pictures().Add(h, b, ""), "hash": p.Pictures().Add(h, b[1:], taken), "empty": p.Pictures().Add(Hash(nil), nil, taken),
		"too large": p.Pictures().Add(Hash(make([]byte, MaxPicture+1)), make([]byte, MaxPicture+1), taken)} {
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
	if err := small.Pictures().Add(h, b, taken); CodeOf(err) != CodeNoRoomForSite {
		t.Errorf("took the state's spare file: %v", err)
	}
}

func TestPicturesTornAtEveryByte(t *testing.T) {
	p, files := newPool(t, 6)
	h1, b1 := image(1)
	h2, b2 := image(2)
	p.Pictures().Add(h1, b1, taken)
	files[2].Power = &badfile.Power{}
	if p.Pictures().Add(h2, b2, taken) == nil {
		t.Fatal("kept without power")
	}
	for keep := 0; keep <= files[2].Pending(); keep++ {
		p, after := restart(t, files, keep, uid(2))
		if n := p.Pictures().Waiting(); n != 1 && (n != 2 || keep < files[2].Pending()) || !bytes.Equal(must(p.Pictures().Read(h1)), b1) {
			t.Fatalf("torn after %d bytes: %d pictures", keep, n)
		}
		if p.Pictures().Add(h2, b2, taken) != nil {
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
		p.Pictures().Add(h1, b1, taken)
		files[2].Break(flaw)
		if err := p.Pictures().Add(h2, b2, taken); CodeOf(err) == "" || p.Pictures().Waiting() != 1 {
			t.Errorf("flaw %d: %v", flaw, err)
		}
		if p.Pictures().Add(h2, b2, taken) != nil {
			t.Errorf("flaw %d lasts", flaw)
		}
		p, _ = restart(t, files, 0, uid(2))
		if !bytes.Equal(must(p.Pictures().Read(h1)), b1) || !bytes.Equal(must(p.Pictures().Read(h2)), b2) {
			t.Errorf("flaw %d: pictures are damaged", flaw)
		}
	}
}

// A crash at each call of confirming and of giving the room back: a picture that waits can be read, one that was
// confirmed never waits again unless its file came back unmarked and whole.
func TestConfirmAndYieldDieAtEachCall(t *testing.T) {
	died := 0
	for left := 0; ; left++ {
		p, files, hashes, all := album(t, 6, 5)
		power := &badfile.Power{Left: left}
		for _, f := range files {
			f.Power = power
		}
		confirmed := map[string]bool{}
		for _, h := range hashes[:4] {
			confirmed[h] = p.Pictures().Confirm(h) == nil
		}
		p.Site("site-1")
		for keep := range 300 {
			again, _ := restart(t, files, keep, uid(2))
			pics := again.Pictures()
			listed := map[string]bool{}
			for i, picture := range pics.List() {
				listed[picture.Hash] = true
				if confirmed[picture.Hash] && !picture.Confirmed && i > 1 {
					t.Fatalf("power for %d calls: picture %d was confirmed, yet it waits", left, i)
				}
				at := 0
				for hashes[at] != picture.Hash {
					at++
				}
				if content, err := pics.Read(picture.Hash); err != nil || !bytes.Equal(content, all[at]) {
					t.Fatalf("power for %d calls, %d bytes kept: picture %d: %v", left, keep, at, err)
				}
			}
			for _, h := range hashes {
				if !listed[h] && !confirmed[h] {
					t.Fatalf("power for %d calls, %d bytes kept: a waiting picture is gone", left, keep)
				}
			}
			for _, key := range again.State().Keys(pictureKey) {
				if !listed[key[len(pictureKey):]] {
					t.Fatalf("power for %d calls: a mark without a picture", left)
				}
			}
			if again.Check() != nil || again.Report().Bad != 0 {
				t.Fatalf("power for %d calls: %+v", left, again.Report())
			}
		}
		if power.Left >= 0 {
			break
		}
		died++
	}
	if died < 10 {
		t.Errorf("only %d crashes", died)
	}
}

func TestADamagedPictureOrHead(t *testing.T) {
	p, files := newPool(t, 6)
	var hashes []string
	for n := 1; n <= 3; n++ {
		h, b := image(n)
		hashes = append(hashes, h)
		p.Pictures().Add(h, b, taken)
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
		if bad, waiting := p.Pictures().Damage().Bad, p.Pictures().Waiting(); bad == 0 || waiting != 2 || len(p.Pictures().List()) != 2 {
			t.Errorf("%s: %d bad, %d wait", name, bad, waiting)
		}
		if name == "head" {
			continue
		}
		if _, content := image(2); p.Pictures().Add(hashes[1], content, taken) != nil || !bytes.Equal(must(p.Pictures().Read(hashes[1])), content) || p.Pictures().Waiting() != 3 {
			t.Error("a damaged picture cannot be kept again")
		}
	}
}

// A damaged picture that nobody confirmed stays on the device, for whoever can make something of it.
func TestADamagedPictureDoesNotYield(t *testing.T) {
	p, _, hashes, _ := album(t, 9, 4)
	for _, h := range hashes[1:] {
		p.Pictures().Confirm(h)
	}
	e := p.Pictures().find(hashes[0])
	must(e.file.tape.file.WriteAt([]byte("x"), e.offset))
	if _, err := p.Pictures().Read(hashes[0]); CodeOf(err) != CodeBadPicture || p.Pictures().Waiting() != 0 {
		t.Errorf("%v, %d wait", err, p.Pictures().Waiting())
	}
	for p.Pictures().yield(nil) {
	}
	if p.Pictures().find(hashes[0]) == nil || p.Pictures().find(hashes[2]) != nil {
		t.Errorf("%v", p.Pictures().entries)
	}
}
