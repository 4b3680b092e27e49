package exchange

import (
	"bytes"

	"jointwalk/sync/journal"
	"jointwalk/sync/lightjson"
)

// nextMeet tells the server who is here and how far its log goes; before a mere push only when the server does not know the
// log yet.
func (p *Phone) nextMeet() (Request, bool, error) {
	if p.turn.greeted || !p.turn.whole && p.met == p.pool.Log().ID() {
		return Request{}, false, nil
	}
	log := p.pool.Log()
	g := Greeting{Speaks: Speaks, App: p.env.App, Log: log.ID(), Seq: log.Seq(), Earlier: log.Earlier(), Clock: p.now(), Incarnation: p.life, Cursors: map[string]string{}}
	if raw, ok := p.pool.State().Get(keyMark); ok {
		_ = lightjson.Unmarshal(raw, &g.Me) // unreadable: all is told again
	}
	for _, site := range p.me.Sites {
		if p.revoked {
			break // its feeds were given back
		}
		inbox, err := p.inbox(site.ID)
		if err != nil {
			return Request{}, false, err
		}
		if cursor := inbox.Cursor(); cursor != "" {
			g.Cursors[site.ID] = cursor
		}
	}
	body, err := lightjson.Marshal(g)
	return Request{Method: methodPost, Path: PathMeet, Type: typeJSON, Body: body}, true, err
}

// tookMeet learns who the phone belongs to, what the server's clock says, and whether its store is the one that was known.
func (p *Phone) tookMeet(body []byte, news *News) error {
	var w Welcome
	if lightjson.Unmarshal(body, &w) != nil || w.Incarnation == "" || w.Mark == "" {
		p.reach = Offline // what answers like this is not ours
		return &journal.Fault{Code: CodeOffline}
	}
	p.server = w.Version
	if w.Lost != nil {
		p.lost = w.Lost // the server says it once
	}
	if now, ok := journal.Moment(w.Now); ok {
		offset := p.env.Now().Sub(now).Milliseconds()
		p.offset = &offset
	}
	if w.Speaks < Oldest {
		return p.outdated(CodeServerTooOld)
	}
	p.tooOld = ""
	another, err := p.become(w, news)
	if err != nil {
		return err
	}
	if another || w.Foreign {
		return p.greetAnew()
	}
	if err := p.remember(w.Incarnation); err != nil {
		return err
	}
	p.turn.greeted, p.turn.pulls, p.turn.behind, p.turn.counted = true, w.News, int(w.Behind), w.Behind > 0
	return p.leave(news)
}

// greetAnew begins another log and greets once more with it.
func (p *Phone) greetAnew() error {
	if p.turn.renewed++; p.turn.renewed > mostRenewals {
		return badAnswer("no log is this device's")
	}
	return p.renew()
}

// mostRenewals bounds the new logs of one turn.
const mostRenewals = 3

// become takes up who the phone belongs to. It says whether the phone is another device now: then its log ends here,
// so that what was written before stays that device's.
func (p *Phone) become(w Welcome, news *News) (another bool, err error) {
	if p.revoked {
		if err := p.put(map[string]any{keyRevoked: false}); err != nil {
			return false, err
		}
		p.revoked = false
	}
	if len(w.Me) == 0 || bytes.Equal(w.Me, []byte("null")) {
		return false, nil
	}
	var me who
	if lightjson.Unmarshal(w.Me, &me) != nil {
		return false, badAnswer("me")
	}
	another = p.me.Device.ID != "" && p.me.Device.ID != me.Device.ID
	if err := p.put(map[string]any{keyMe: w.Me, keyMark: w.Mark}); err != nil {
		return false, err
	}
	p.me, news.Me = me, w.Me
	return another, nil
}

// renew begins another log.
func (p *Phone) renew() error {
	id, err := p.env.NewID()
	if err != nil {
		return err
	}
	p.pool.Log().Renew(id)
	return nil
}

// remember keeps that the server knows the log, and with which store all is in order. Another store than the known one is
// one that was restored: everything is compared first, and only then is it known.
func (p *Phone) remember(incarnation string) error {
	values := map[string]any{}
	if log := p.pool.Log().ID(); p.met != log {
		values[keyMet] = log
	}
	switch {
	case p.life == incarnation:
	case p.life == "" && !p.dealt():
		values[keyIncarnation] = incarnation
	default:
		p.turn.compared, p.turn.proven = map[string]bool{}, map[string]bool{}
		p.turn.stranger = incarnation
		if err := p.pool.Pictures().Unconfirm(); err != nil { // they have to be asked for anew
			return err
		}
	}
	if len(values) == 0 {
		return nil
	}
	if err := p.put(values); err != nil {
		return err
	}
	p.met = p.pool.Log().ID()
	if p.turn.stranger == "" {
		p.life = incarnation
	}
	return nil
}

// dealt says whether this phone holds anything of a server, or had anything acknowledged. Where the store's incarnation is not
// known any more (the file that told it is gone) it may have been restored since.
func (p *Phone) dealt() bool {
	if len(p.outbox.Acked()) > 0 {
		return true
	}
	for _, site := range p.pool.Sites() {
		if feed, err := p.pool.Site(site); err == nil && feed.Len() > 0 {
			return true
		}
	}
	return false
}

// refusedMeet goes on to push where a revoked device may still do that.
func (p *Phone) refusedMeet(refusal error, news *News) error {
	switch journal.CodeOf(refusal) {
	case CodeRevoked:
		return p.revoke(news)
	case CodeTooOld:
		return p.outdated(CodeTooOld)
	case CodeNotFound:
		return p.outdated(CodeServerTooOld)
	}
	return refusal
}

// outdated notes which side is too old. Capture goes on.
func (p *Phone) outdated(code string) error {
	p.tooOld = code
	return &journal.Fault{Code: code}
}

// revoke closes this device: what it holds is pushed once more, then what it was given goes.
func (p *Phone) revoke(news *News) error {
	if !p.revoked {
		if err := p.outbox.Forget(); err != nil { // who may not compare any more cannot know whether the store was restored
			return err
		}
		if err := p.put(map[string]any{keyRevoked: true}); err != nil {
			return err
		}
		p.revoked = true
	}
	p.turn.stages, p.turn.at = []stage{{next: (*Phone).nextPush, took: (*Phone).tookPush}}, 0
	return p.leave(news)
}

// free says whether nothing waits to be sent or to be handed in to a restored server.
func (p *Phone) free() bool { return p.outbox.Unsent() == 0 && p.turn.stranger == "" }

// leave gives back the feeds of sites that are not the person's, all of them on a revoked device, once nothing waits to be
// sent or to be handed in to a restored server.
func (p *Phone) leave(news *News) error {
	if p.turn.leaving = !p.free(); p.turn.leaving {
		return nil
	}
	for _, site := range p.pool.Sites() {
		if p.ours(site) && !p.revoked {
			continue
		}
		inbox, err := p.inbox(site)
		if err != nil {
			return err
		}
		if err := inbox.Forget(); err != nil {
			return err
		}
		news.Left = append(news.Left, site) // it is gone now, whether its files could be emptied or not
		if err := p.pool.DropSite(site); err != nil {
			return err
		}
	}
	return nil
}
