package engine

import (
	"encoding/json"
	"strconv"

	"jointwalk/sync/exchange"
)

// NextPush gives the next batch to send. Errors: those of reading the log.
func (e *Engine) NextPush() (Push, error) {
	batch, err := e.outbox.Next()
	if err != nil {
		return Push{}, err
	}
	e.batch = batch
	if batch.Empty() {
		return Push{}, nil
	}
	return Push{Body: string(batch.Body()), Clock: e.now()}, nil
}

// Pushed takes the server's answer to the batch that NextPush gave last. On a
// fork a new log is begun. Errors: exchange.CodeBadAnswer, those of a write;
// then the batch stays unsent.
func (e *Engine) Pushed(answer string) (Sent, error) {
	if e.batch.Empty() {
		return Sent{}, &Fault{Code: CodeBadCall, Field: "no batch is under way"}
	}
	outcome, err := e.outbox.Answer(e.batch, []byte(answer))
	if err != nil {
		return Sent{}, err
	}
	e.batch = exchange.Batch{}
	e.backoff.Succeeded()
	if outcome.Forked {
		id, err := e.env.uuidv7()
		if err != nil {
			return Sent{}, err
		}
		e.pool.Log().Renew(id)
	}
	sent := Sent{Applied: outcome.Applied, Duplicate: outcome.Duplicate, Aside: len(outcome.Aside)}
	return sent, e.setAside(outcome.Aside)
}

// setAside remembers which events the server would not take, and why.
func (e *Engine) setAside(verdicts []exchange.Verdict) error {
	if len(verdicts) == 0 {
		return nil
	}
	for _, v := range verdicts {
		e.asides[v.Log+"/"+strconv.FormatUint(v.Seq, 10)] = v.Code
	}
	return e.pool.State().Set(keyAsides, e.asides)
}

// Pulls says where to go on with each site of the person.
func (e *Engine) Pulls() (Pulls, error) {
	pulls := Pulls{Pulls: []Pull{}}
	if e.me == nil {
		return pulls, nil
	}
	for _, s := range e.me.Sites {
		inbox, err := e.inbox(s.ID)
		if err != nil {
			return pulls, err
		}
		pulls.Pulls = append(pulls.Pulls, Pull{Site: s.ID, Cursor: inbox.Cursor()})
	}
	return pulls, nil
}

func (e *Engine) inbox(site string) (*exchange.Inbox, error) {
	feed, err := e.pool.Site(site)
	if err != nil {
		return nil, err
	}
	return exchange.NewInbox(site, feed, e.pool.State(), e.pool.Log().Owns), nil
}

// Pulled keeps and folds what the server answered to a pull of a site. Errors:
// exchange.CodeBadPull (nothing is kept), those of a write.
func (e *Engine) Pulled(site, answer string) (Pulled, error) {
	inbox, err := e.inbox(site)
	if err != nil {
		return Pulled{}, err
	}
	slice, err := inbox.Apply([]byte(answer))
	if err != nil {
		return Pulled{}, err
	}
	e.backoff.Succeeded()
	for _, pair := range slice.Added {
		e.takeLine(pair.Line)
	}
	for _, pair := range slice.Own {
		e.takeLine(pair.Line)
	}
	return Pulled{Added: len(slice.Added) + len(slice.Own), More: slice.More}, nil
}

// SetMe keeps who this device belongs to and gives back the files of sites
// that the person no longer works at. A nil me means nobody: what was written
// stays and waits. Errors: those of a write.
func (e *Engine) SetMe(me *Me) error {
	raw, err := json.Marshal(me)
	if err != nil {
		return &Fault{Code: CodeBadCall, Field: "me"}
	}
	if old, _ := e.pool.State().Get(keyMe); string(old) == string(raw) {
		return nil
	}
	if err := e.pool.State().Put(map[string]json.RawMessage{keyMe: raw}); err != nil {
		return err
	}
	e.me = me
	if err := e.leaveSites(); err != nil {
		return err
	}
	e.rename()
	return nil
}

// leaveSites drops the feeds of sites that are not the person's. While nobody
// is signed in nothing is dropped.
func (e *Engine) leaveSites() error {
	if e.me == nil {
		return nil
	}
	stays := map[string]bool{}
	for _, s := range e.me.Sites {
		stays[s.ID] = true
	}
	for _, site := range e.pool.Sites() {
		if stays[site] {
			continue
		}
		inbox, err := e.inbox(site)
		if err != nil {
			return err
		}
		if err := inbox.Forget(); err != nil {
			return err
		}
		if err := e.pool.DropSite(site); err != nil {
			return err
		}
		e.book.DropSite(site)
	}
	return nil
}
