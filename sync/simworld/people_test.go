package simworld

import (
	"slices"
	"strconv"
	"strings"

	"jointwalk/sync/exchange"
	"jointwalk/sync/journal"
)

// person is somebody with one phone or more.
type person struct {
	w  *world
	id string
}

// sites are where the person works now, as the server has it.
func (p *person) sites() []string { return p.w.server.register.grants[p.id] }

// populate makes the server, the sites, and persons with phones.
func (w *world) populate(open factory) {
	for n := range 1 + w.rng.IntN(4) {
		w.sites = append(w.sites, "site-"+strconv.Itoa(n+1))
	}
	w.spares = w.chance(3)
	w.server = w.newServer(open)
	for n := range 1 + w.rng.IntN(4) {
		p := &person{w: w, id: "person-" + strconv.Itoa(n+1)}
		w.people = append(w.people, p)
		for _, site := range w.sites {
			if w.rng.IntN(3) > 0 {
				w.server.register.grants[p.id] = append(w.server.register.grants[p.id], site)
			}
		}
		w.newPhone(p)
		if w.chance(3) {
			w.newPhone(p)
		}
	}
	w.tally.seeds, w.tally.phones = 1, len(w.phones)
	w.things.begin(w)
}

// newPhone gives a person a phone.
func (w *world) newPhone(p *person) {
	h := &handset{w: w, name: "phone-" + strconv.Itoa(len(w.phones)+1), person: p, old: w.chance(4)}
	if h.old {
		w.fault("old reader")
	}
	w.phones = append(w.phones, h)
	w.server.pair(h, p)
}

// pair makes a phone a device of a person, as an invitation does.
func (s *server) pair(h *handset, p *person) {
	s.w.ids += 2
	h.person, h.device, h.token = p, "device-"+strconv.FormatUint(s.w.ids, 10), "token-"+strconv.FormatUint(s.w.ids, 10)
	s.register.pair(p.id, h.device, h.token)
	s.w.note("%s is %s of %s", h.name, h.device, p.id)
}

// The faults of people and places.

func (w *world) loseSite() {
	p := pick(w, w.people)
	sites := p.sites()
	if len(sites) == 0 {
		return
	}
	at := w.rng.IntN(len(sites))
	w.fault("site lost")
	w.truth.release(p.id, sites[at])
	w.server.register.grants[p.id] = slices.Delete(slices.Clone(sites), at, at+1)
}

func (w *world) gainSite() {
	p, site := pick(w, w.people), pick(w, w.sites)
	if !slices.Contains(p.sites(), site) {
		w.fault("site gained")
		w.server.register.grants[p.id] = append(slices.Clone(p.sites()), site)
	}
}

func (w *world) revokeDevice() {
	h := pick(w, w.phones)
	if w.server.revoked[h.device] || len(w.server.revoked) > len(w.phones)/3 {
		return
	}
	w.fault("device revoked")
	w.server.revoked[h.device] = true
	d := w.server.register.devices[h.device]
	d.revoked = true
	w.server.register.devices[h.device] = d
	w.truth.release(h.person.id, "")
}

func (w *world) expireSession() {
	h := pick(w, w.phones)
	w.fault("session expired")
	delete(w.server.register.sessions, h.token)
}

// handOn gives a phone to another person, who pairs it anew.
func (w *world) handOn() {
	h, p := pick(w, w.phones), pick(w, w.people)
	if p != h.person && !w.server.revoked[h.device] {
		w.fault("device given to another person")
		w.truth.release(h.person.id, "")
		w.server.pair(h, p)
	}
}

// signIn pairs a phone anew that the server knows no session of.
func (h *handset) signIn() {
	if _, known := h.w.server.register.sessions[h.token]; !known && h.w.server.up {
		h.w.reached("signed out")
		h.w.server.pair(h, h.person)
		h.begin(true)
	}
}

// forge hands in a line of a log that no device told of, with a receipt that the server never gave.
func (h *handset) forge() {
	w := h.w
	if !w.server.up || w.server.full || w.server.dies != never || len(w.people) == 0 {
		return
	}
	log := must(journal.OpenLog(&journal.Memory{}, w.newID()))
	lines := must(log.Append([]journal.Draft{{ID: w.newID(), Time: w.now.Format(journal.TimeLayout), Zone: "UTC", By: h.person.id,
		About: journal.About{Site: pick(w, w.sites)}, Kind: kindFuture, Body: map[string]int{}}}))
	forged := exchange.Receipt{N: 1, At: w.now.Format(journal.TimeLayout), From: h.device, Seal: strings.Repeat("0", 32)}
	body := exchange.AppendPair(nil, journal.Pair{Line: lines[0], Receipt: forged})
	reply := w.server.handle(h.token, exchange.Request{Method: "POST", Path: exchange.PathFill, Body: body})
	if reply.Status == 200 {
		w.fault("receipt forged")
	}
	if w.server.mirror.fed[journal.Hash(lines[0])] {
		w.broken("a line came into a feed by a receipt that the server never gave")
	}
}
