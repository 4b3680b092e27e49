package engine

import (
	"bytes"
	"testing"

	"jointwalk/sync/journal"
	"jointwalk/sync/record"
	"jointwalk/sync/summary"
)

// shot keeps a picture of a finding, as its screen does, and gives its hash and the event.
func (p *phone) shot(site, fixture, finding string, content []byte) (hash, event string) {
	p.t.Helper()
	note, err := p.KeepPicture(content)
	if err != nil {
		p.t.Fatal(err)
	}
	d := draft(record.PictureAdded, site, fixture, record.Picture{Hash: note.Hash, Bytes: note.Bytes, Type: "image/jpeg", Width: 4, Height: 3})
	d.Of = finding
	return note.Hash, p.write(d)[0].ID
}

func withdrawal(site, fixture, finding, event, why string) Draft {
	d := draft(record.Withdrawn, site, fixture, record.Reason{Why: why})
	d.Of, d.Base = finding, event
	return d
}

// found is a finding on a phone of ann's.
func found(t *testing.T) (p *phone, fixture, finding string) {
	p = newPhone(t, 1)
	p.belong("ann", plant)
	fixture, joint, round := p.station(plant)
	return p, fixture, p.write(leaking(plant, fixture, joint, round))[0].Of
}

// stands says whether bytes stand in any file of the phone.
func (p *phone) stands(content []byte) bool {
	for _, f := range p.files {
		size, err := f.Size()
		if err != nil {
			p.t.Fatal(err)
		}
		all := make([]byte, size)
		if n, _ := f.ReadAt(all, 0); n != len(all) {
			p.t.Fatal("a file cannot be read")
		}
		if bytes.Contains(all, content) {
			return true
		}
	}
	return false
}

// Who withdraws a picture has its bytes off the phone at once, offline, sent or not; hash, name and reason stay.
func TestAWithdrawnPictureIsGoneAtOnce(t *testing.T) {
	for _, sent := range []bool{false, true} {
		p, fixture, finding := found(t)
		content := []byte("a picture with a face in it")
		hash, event := p.shot(plant, fixture, finding, content)
		if sent {
			newHall().sync(p)
		}
		for name, why := range map[string]string{"nothing": "", "spaces": "  "} {
			if _, err := p.try(withdrawal(plant, fixture, finding, event, why)); codeOf(err) != record.Missing || !p.stands(content) {
				t.Errorf("%s as a reason: %v", name, err)
			}
		}
		p.write(withdrawal(plant, fixture, finding, event, "a face"))
		for range 2 {
			if _, err := p.Picture(hash); codeOf(err) != journal.CodeNoPicture || p.stands(content) || p.Standing().UnsentPictures != 0 || p.Standing().Damage != 0 {
				t.Errorf("sent %v: %v, %+v", sent, err, p.Standing())
			}
			var f summary.Finding
			p.ask("finding", summary.FindingQuestion{ID: finding}, &f)
			card := f.Pictures[0]
			if w := card.Withdrawn; card.Hash != hash || w == nil || card.Why != "a face" || w.By != "ann" || w.Name == "" || card.Event != event {
				t.Errorf("%+v", card)
			}
			p.start()
		}
	}
}

// A phone that learns of a withdrawal drops the bytes.
func TestAPhoneLearnsOfAWithdrawal(t *testing.T) {
	p, fixture, finding := found(t)
	content := []byte("a picture with a secret in it")
	_, event := p.shot(plant, fixture, finding, content)
	h := newHall()
	h.sync(p)
	other := newPhone(t, 2)
	other.belong("bob", plant)
	h.sync(other)
	other.me.Person.Duties = []string{supervisor}
	other.write(withdrawal(plant, fixture, finding, event, "a secret"))
	h.sync(other)
	if !p.stands(content) {
		t.Fatal("it went before it was heard of")
	}
	h.sync(p)
	if p.stands(content) || p.Standing().UnsentPictures != 0 {
		t.Error("it stands after the phone heard of it")
	}
}

// A colleague's picture is a supervisor's to withdraw: here its bytes would be gone before the server says no.
func TestAColleaguesPictureStays(t *testing.T) {
	p, fixture, finding := found(t)
	content := []byte("a picture of ann's")
	_, event := p.shot(plant, fixture, finding, content)
	p.me.Person = Person{ID: "bob", Duties: []string{"technician"}}
	if _, err := p.try(withdrawal(plant, fixture, finding, event, "dislike")); codeOf(err) != CodeNotAllowed || !p.stands(content) {
		t.Errorf("%v", err)
	}
	p.me.Person.Duties, p.me.Sites[0].Duties = []string{supervisor}, []string{"technician"} // a supervisor elsewhere
	if _, err := p.try(withdrawal(plant, fixture, finding, event, "dislike")); codeOf(err) != CodeNotAllowed || !p.stands(content) {
		t.Errorf("elsewhere: %v", err)
	}
	p.me.Sites[0].Duties = []string{supervisor}
	if p.write(withdrawal(plant, fixture, finding, event, "a secret")); p.stands(content) {
		t.Error("a supervisor's word counts for nothing")
	}
}

// The same picture taken again after it was withdrawn is a picture like any other, before its event is written too.
func TestTheSamePictureAgain(t *testing.T) {
	p, fixture, finding := found(t)
	content := []byte("a picture taken twice")
	hash, event := p.shot(plant, fixture, finding, content)
	h := newHall()
	h.sync(p)
	p.write(withdrawal(plant, fixture, finding, event, "undo"))
	if _, err := p.KeepPicture(content); err != nil {
		t.Fatal(err)
	}
	h.sync(p) // brings the withdrawal back with its receipt
	if !p.stands(content) || !p.book.Album.Stands(hash) {
		t.Error("it went before its event was written")
	}
	_, event = p.shot(plant, fixture, finding, content)
	if p.start(); !p.stands(content) {
		t.Error("it went at a start")
	}
	if p.write(withdrawal(plant, fixture, finding, event, "a face")); p.stands(content) {
		t.Error("it was withdrawn again, and stands")
	}
}

// What was withdrawn goes at a start too, where an earlier one died before it was dropped.
func TestAStartDropsWhatWasWithdrawn(t *testing.T) {
	p, fixture, finding := found(t)
	content := []byte("a picture that a crash left")
	hash, event := p.shot(plant, fixture, finding, content)
	p.write(withdrawal(plant, fixture, finding, event, "a face"))
	if err := p.pool.Pictures().Add(hash, content, p.now()); err != nil {
		t.Fatal(err)
	}
	if !p.stands(content) {
		t.Fatal("the test leaves nothing")
	}
	if p.start(); p.stands(content) || p.Standing().UnsentPictures != 0 {
		t.Errorf("%+v", p.Standing())
	}
}

// Of a picture that two events speak of, and one was taken back, the server is asked again: it may have dropped it between the two.
func TestAPictureThatStillStandsIsAskedForAnew(t *testing.T) {
	p, fixture, finding := found(t)
	content := []byte("a picture in two findings")
	_, event := p.shot(plant, fixture, finding, content)
	p.shot(plant, fixture, finding, content)
	h := newHall()
	h.sync(p)
	if n := p.Standing().UnsentPictures; n != 0 {
		t.Fatalf("%d wait", n)
	}
	p.write(withdrawal(plant, fixture, finding, event, "undo"))
	if n := p.Standing().UnsentPictures; n != 1 || !p.stands(content) {
		t.Errorf("%d wait", n)
	}
	if h.sync(p); p.Standing().UnsentPictures != 0 || !p.stands(content) {
		t.Errorf("%+v", p.Standing())
	}
}
