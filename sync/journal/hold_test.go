package journal

import (
	"bytes"
	"testing"

	"jointwalk/sync/journal/badfile"
)

// A picture that the server gave is here and does not wait; it may be dropped and held again, and its room is wanted first.
func TestAPictureOfTheServers(t *testing.T) {
	p, files := newPool(t, 6)
	h, b := image(1)
	pics := p.Pictures()
	if pics.Has(h) || pics.Hold(h, b, taken) != nil || pics.Hold(h, b, taken) != nil || !pics.Has(h) || pics.Waiting() != 0 || len(pics.List()) != 1 {
		t.Errorf("%+v", pics.List())
	}
	for name, bad := range map[string][]byte{"another": []byte("x"), "none": {}, "too long": make([]byte, MaxPicture+1)} {
		if err := pics.Hold(Hash([]byte(name)), bad, taken); CodeOf(err) != CodeBadPicture {
			t.Errorf("%s: %v", name, err)
		}
	}
	p, files = restart(t, files, 0, uid(2))
	pics = p.Pictures()
	if !pics.Has(h) || pics.Waiting() != 0 || !bytes.Equal(must(pics.Read(h)), b) {
		t.Errorf("after a start: %+v", pics.List())
	}
	if pics.Drop(h) != nil || pics.Has(h) || inFiles(files, b) {
		t.Error("dropped, and here still")
	}
	if pics.Hold(h, b, taken) != nil || !pics.Has(h) || pics.Waiting() != 0 {
		t.Error("not held again")
	}
	p, _ = restart(t, files, 0, uid(3))
	if !p.Pictures().Has(h) || p.Pictures().Waiting() != 0 {
		t.Error("held again, and gone at a start")
	}
}

// Wherever the power goes while one is kept, none is here by halves, and none waits to be sent.
func TestAPictureOfTheServersIsCutOff(t *testing.T) {
	h, b := image(1)
	for left := 0; ; left++ {
		p, files := newPool(t, 6)
		power := &badfile.Power{Left: left}
		for _, f := range files {
			f.Power = power
		}
		err := p.Pictures().Hold(h, b, taken)
		p, _ = restart(t, files, 0, uid(2))
		pics := p.Pictures()
		if pics.Waiting() != 0 || pics.Damage().Bad != 0 || err == nil && !pics.Has(h) {
			t.Errorf("power for %d: %+v %v", left, pics.List(), err)
		}
		if pics.Has(h) && !bytes.Equal(must(pics.Read(h)), b) || !pics.Has(h) && pics.Hold(h, b, taken) != nil {
			t.Errorf("power for %d: it is not whole", left)
		}
		if err == nil {
			return
		}
	}
}
