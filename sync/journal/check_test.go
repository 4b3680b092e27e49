package journal

import (
	"testing"

	"jointwalk/sync/journal/badfile"
)

// busy is a pool with something in every stream.
func busy(t *testing.T) (*Pool, []*badfile.File) {
	p, files := newPool(t, 7)
	must(p.Log().Append(drafts(0, 3)))
	must(must(p.Site("site-1")).Append(pairs(t, logB, 0, 3)))
	h, b := image(1)
	if err := p.Pictures().Add(h, b, taken); err != nil {
		t.Fatal(err)
	}
	if err := p.State().Set("me", 1); err != nil {
		t.Fatal(err)
	}
	return p, files
}

func TestCheckFindsNothingWrong(t *testing.T) {
	p, files := busy(t)
	for n := range 3 {
		if err := p.Check(); err != nil {
			t.Errorf("start %d: %v", n, err)
		}
		must(p.Log().Append(drafts(3+n, 4+n)))
		p.State().Set("n", n)
		if err := p.Check(); err != nil {
			t.Errorf("start %d, after a write: %v", n, err)
		}
		p, files = restart(t, files, 0, uid(2+n))
	}
	files[1].Break(badfile.WriteError, badfile.CutError)
	if _, err := p.Log().Append(drafts(9, 10)); err == nil || !p.Log().tapes[0].dirty {
		t.Fatal("nothing was left behind")
	}
	if err := p.Check(); err != nil {
		t.Errorf("what a failed write left was not cut: %v", err)
	}
}

// What happened to a file while nobody looked is seen, whichever file it is, and by its code.
func TestCheckSeesWhatHappenedMeanwhile(t *testing.T) {
	for name, harm := range map[string]func(f *badfile.File){
		"no size":     func(f *badfile.File) { f.BreakFor(badfile.SizeError) },
		"longer":      func(f *badfile.File) { f.WriteAt([]byte("x"), must(f.Size())) },
		"shorter":     func(f *badfile.File) { f.Truncate(max(must(f.Size())-1, 0)) },
		"emptied":     func(f *badfile.File) { f.Truncate(0) },
		"another end": func(f *badfile.File) { n := must(f.Size()); f.WriteAt([]byte("x"), max(n-12, 0)) },
		"no read":     func(f *badfile.File) { f.BreakFor(badfile.ReadError) },
	} {
		for i := range 7 {
			for _, again := range []bool{false, true} {
				p, files := busy(t)
				if again {
					p, files = restart(t, files, 0, uid(2))
				}
				empty := must(files[i].Size()) == 0
				harm(files[i])
				unseen := empty && (name == "shorter" || name == "emptied" || name == "no read")
				if err := p.Check(); (CodeOf(err) == CodeReadFailed) == unseen {
					t.Errorf("%s, file %d, restarted %v: %v", name, i, again, err)
				}
			}
		}
	}
}

func TestCheckOfAFileThatCannotBeCutBack(t *testing.T) {
	p, files := busy(t)
	files[1].BreakFor(badfile.WriteError, badfile.CutError)
	p.Log().Append(drafts(9, 10))
	if err := p.Check(); CodeOf(err) != CodeReadFailed {
		t.Error(err)
	}
}

// A bad line at a file's end was told at the start; it does not make every check fail.
func TestCheckAfterDamageAtTheEnd(t *testing.T) {
	_, files := busy(t)
	for i, f := range files {
		data := f.Bytes()
		if len(data) > 0 {
			data[len(data)-3] ^= 1
		}
		files[i] = badfile.New(data)
	}
	p, _ := restart(t, files, 0, uid(2))
	if err := p.Check(); err != nil {
		t.Error(err)
	}
}

// A torn tail that was cut off at the start is not missed.
func TestCheckAfterATornTail(t *testing.T) {
	_, files := busy(t)
	for i, f := range files {
		if n := must(f.Size()); n > 0 {
			f.WriteAt([]byte("a torn line"), n)
			files[i] = badfile.New(f.Bytes())
		}
	}
	p, _ := restart(t, files, 0, uid(2))
	if err := p.Check(); err != nil || must(files[1].Size()) == p.Log().tapes[0].end {
		t.Error(err)
	}
	p.State().Set("me", 2)
	if err := p.Check(); err != nil {
		t.Error(err)
	}
}
