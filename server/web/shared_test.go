package web

import (
	"testing"

	"jointwalk/sync/exchange"
	"jointwalk/sync/record"
)

// share lets Tom and Mia use Tom's phone.
func (p *plant) share() {
	tom, mia := hands[0], hands[7]
	both := tom
	both.Grants = Grants{siteA: {"technician"}, siteB: {"engineer"}}
	mia.Grants = Grants{siteA: {"technician"}, siteB: {"engineer"}}
	p.gate.sessions["tom"] = Visit{Person: both, Device: Device{"d-p-tom", "phone of tom"}, Crew: []Person{tom, mia}}
	p.gate.crew = map[string][]string{"d-p-tom": {"p-tom", "p-mia"}}
}

func TestASharedPhoneKnowsItsPeople(t *testing.T) {
	p := newPlant(t)
	p.share()
	me := into[Me](t, p.call("GET", "/api/me", "tom", ""), 200)
	if me.Person.ID != "p-tom" || len(me.Sites) != 2 || len(me.Mates) != 2 || me.Mates[1].ID != "p-mia" || me.Mates[1].Grants[siteB][0] != "engineer" {
		t.Errorf("%+v", me)
	}
	if me := into[Me](t, p.call("GET", "/api/me", "ana", ""), 200); me.Mates != nil {
		t.Errorf("alone: %+v", me.Mates)
	}
	if joined := into[Joined](t, p.call("POST", "/api/mates", "ana", `{"code":"good"}`), 200); joined.Person != "p-new" {
		t.Errorf("%+v", joined)
	}
	if me := into[Me](t, p.call("GET", "/api/me", "ana", ""), 200); len(me.Mates) != 2 || me.Mates[1].Name != "New" {
		t.Errorf("%+v", me.Mates)
	}
	if w := p.call("POST", "/api/mates/p-new/leave", "ana", ""); w.Code != 204 {
		t.Errorf("%d %s", w.Code, w.Body)
	}
	if me := into[Me](t, p.call("GET", "/api/me", "ana", ""), 200); me.Mates != nil {
		t.Errorf("%+v", me.Mates)
	}
	wants(t, p.call("POST", "/api/mates", "ana", `{"code":"bad"}`), 404, "invitation-unknown")
	wants(t, p.call("POST", "/api/mates", "ana", `{}`), 422, "bad-input")
}

// Whoever holds a shared phone is given no way to be one of its people elsewhere.
func TestASharedPhoneInvitesNoDevice(t *testing.T) {
	p := newPlant(t)
	p.share()
	wants(t, p.call("POST", "/api/people/p-tom/devices", "tom", ""), 403, "not-allowed")
	wants(t, p.call("POST", "/api/people/p-mia/devices", "tom", ""), 403, "not-allowed")
}

// What is set aside is told to whoever shares the phone that wrote it; closing the phone is for who oversees them all.
func TestASharedPhoneIsLookedAfter(t *testing.T) {
	p := newPlant(t)
	p.share()
	mine := into[[]SetAside](t, p.call("GET", "/api/asides", "tom", ""), 200)
	if len(mine) != 1 || !mine[0].Mine {
		t.Errorf("%+v", mine)
	}
	wants(t, p.call("POST", "/api/devices/d-p-tom/revoke", "ana", ""), 403, "wrong-site") // Mia works at B too
	if w := p.call("POST", "/api/devices/d-p-tom/revoke", "sue", ""); w.Code != 204 {
		t.Errorf("%d %s", w.Code, w.Body)
	}
}

// Nobody supervises on a shared phone, whatever their duties are: not in what they write either.
func TestNobodySupervisesOnASharedPhone(t *testing.T) {
	for _, shared := range []bool{false, true} {
		p, other := newPlant(t), newPhone(t)
		p.gate.writers[other.log.ID()] = "d-p-ana"
		want := ""
		if shared {
			want, p.gate.crew = "not-allowed", map[string][]string{"d-p-ana": {"p-ana", "p-tom"}}
		}
		line := other.of(jointID, "p-ana", siteA, record.JointRetired, record.Reason{Why: "gone"})
		if v := into[exchange.Answer](t, p.call("POST", exchange.PathPush, "sue", line), 200).Answers[0]; v.Code != want {
			t.Errorf("shared %v: %+v", shared, v)
		}
	}
}

// People see their own devices and close them; on a shared one whoever holds it does neither.
func TestOwnDevices(t *testing.T) {
	p := newPlant(t)
	if all := into[[]KnownDevice](t, p.call("GET", "/api/devices", "tom", ""), 200); len(all) != 1 || all[0].ID != "d-p-tom" {
		t.Errorf("%+v", all)
	}
	if all := into[[]KnownDevice](t, p.call("GET", "/api/devices", "ana", ""), 200); len(all) != 0 {
		t.Errorf("somebody else's: %+v", all)
	}
	p.share()
	wants(t, p.call("POST", "/api/devices/d-p-tom/revoke", "tom", ""), 403, "not-allowed")
	delete(p.gate.sessions, "mia")
	p.gate.sessions["tom"] = Visit{Person: hands[0], Device: Device{"d-other", "tablet of tom"}}
	p.gate.crew = nil
	if w := p.call("POST", "/api/devices/d-p-tom/revoke", "tom", ""); w.Code != 204 {
		t.Errorf("%d %s", w.Code, w.Body)
	}
}
