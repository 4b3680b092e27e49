package engine

import (
	"bytes"
	"testing"

	"jointwalk/sync/exchange"
	"jointwalk/sync/summary"
)

// photographed is a fixture of ann's whose photo was replaced by another, both at the server, and bob's phone with its events.
func photographed(t *testing.T) (h *hall, ann, bob *phone, fixture, event string, old, photo []byte) {
	h, old, photo = newHall(), []byte("the photo that it had before"), []byte("the photo by which it is known")
	ann, fixture, _ = found(t)
	was, _ := ann.shot(plant, fixture, fixture, old)
	hash, event := ann.shot(plant, fixture, fixture, photo)
	h.pictures[exchange.PathPictures+was], h.pictures[exchange.PathPictures+hash] = old, photo
	h.sync(ann)
	bob = newPhone(t, 2)
	bob.belong("bob", plant)
	h.sync(bob)
	return h, ann, bob, fixture, event, old, photo
}

// Another phone than the one that took it holds the photo that shows now, and no other; it keeps it over a start, does not
// send it, and asks for it once.
func TestAPhoneHoldsThePhotosOfOthers(t *testing.T) {
	h, ann, bob, _, _, old, photo := photographed(t)
	for range 2 {
		hash := bob.fixturePhoto(t)
		if got, err := bob.Picture(hash); err != nil || !bytes.Equal(got, photo) || bob.stands(old) || bob.Standing().UnsentPictures != 0 {
			t.Errorf("%q %v, %+v", got, err, bob.Standing())
		}
		h.sync(bob)
		bob.start()
	}
	h.sync(ann)
	if len(h.given) != 1 {
		t.Errorf("given %v", h.given)
	}
}

// One that is withdrawn leaves every phone, and the one before it shows again.
func TestAWithdrawnPhotoLeavesEveryPhone(t *testing.T) {
	h, ann, bob, fixture, event, old, photo := photographed(t)
	ann.write(withdrawal(plant, fixture, fixture, event, "a face"))
	h.sync(ann)
	if !bob.stands(photo) {
		t.Fatal("it went before it was heard of")
	}
	h.sync(bob)
	if ann.stands(photo) || bob.stands(photo) || !bob.stands(old) {
		t.Errorf("withdrawn: %v %v; the one before: %v", ann.stands(photo), bob.stands(photo), bob.stands(old))
	}
}

// With a site its photos are given back, and come again with it.
func TestPhotosGoWithTheirSite(t *testing.T) {
	h, _, bob, _, _, _, photo := photographed(t)
	bob.belong("bob", southPlant)
	if bob.stands(photo) {
		t.Error("it stands after its site was given back")
	}
	h.sync(bob)
	bob.belong("bob", plant)
	h.sync(bob)
	if !bob.stands(photo) {
		t.Error("the site is here again, and its photo is not")
	}
}

// fixturePhoto is the hash of the photo of the one fixture.
func (p *phone) fixturePhoto(t *testing.T) string {
	t.Helper()
	var home summary.Home
	p.ask("home", summary.HomeQuestion{}, &home)
	var f summary.Fixture
	p.ask("fixture", summary.FixtureQuestion{ID: home.Sites[0].Fixtures[0].ID}, &f)
	if f.Photo == nil {
		t.Fatal("it has no photo")
	}
	return f.Photo.Hash
}
