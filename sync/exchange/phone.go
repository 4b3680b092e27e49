package exchange

import (
	"encoding/json"
	"slices"
	"time"

	"jointwalk/sync/journal"
	"jointwalk/sync/lightjson"
)

// Where a Phone keeps what it must remember.
const (
	keyMe          = "me"          // who the phone belongs to, as the server said it
	keyMark        = "me-mark"     // Welcome.Mark of that
	keyMet         = "met"         // the log that the server was told of
	keyIncarnation = "incarnation" // of the store with which all was compared
	keyAsides      = "asides"      // "log/seq" → code of what the server set aside
	keyRevoked     = "revoked"
)

// idle is the time between turns when all is well.
const idle = time.Minute

// PhoneEnv is what a Phone may ask of the world.
type PhoneEnv struct {
	NewID  func() (string, error) // a new UUIDv7
	Now    func() time.Time       // the device's clock
	Jitter func() float64         // random, in [0, 1)
	App    string                 // version of the app
	// Wanted says whether this device has more to say of a picture that the server calls withdrawn; nil for never.
	Wanted func(hash string) bool
	// Photos are the hashes of pictures that this device is to hold though it did not take them, the most wanted first; nil for
	// none.
	Photos func() []string
}

// Phone is a device's side of the exchange, as a step function. Begin a turn; then carry what Next gives to the server
// and hand what came back to Took, until Next gives nothing. A turn that a fault ended is over: Wait says
// when to begin another. Every step may be cut off by a crash: the next turn takes up from what was flushed.
type Phone struct {
	pool   *journal.Pool
	env    PhoneEnv
	outbox *Outbox

	me      who
	asides  map[string]string
	met     string // the log that the server was told of
	life    string // incarnation of the store with which all was compared
	revoked bool
	paused  bool // since Stop

	turn    *turn
	turns   int            // whole ones since the start
	tries   map[string]int // photo → how often it was asked for since the start
	again   wish
	backoff Backoff
	wait    time.Duration
	standing
}

// wish is a turn that was asked for during another.
type wish int

const (
	none wish = iota
	justSend
	everything
)

// OpenPhone takes up from what the pool remembers. Errors: CodeBadKey of the state.
func OpenPhone(pool *journal.Pool, env PhoneEnv) (*Phone, error) {
	p := &Phone{pool: pool, env: env, asides: map[string]string{}, tries: map[string]int{}}
	var err error
	if p.outbox, err = NewOutbox(pool.Log(), pool.State()); err != nil {
		return nil, err
	}
	for key, into := range map[string]any{keyMe: &p.me, keyAsides: &p.asides, keyMet: &p.met, keyIncarnation: &p.life, keyRevoked: &p.revoked} {
		if _, err := pool.State().Load(key, into); err != nil {
			return nil, err
		}
	}
	if p.asides == nil {
		p.asides = map[string]string{}
	}
	if _, merged := pool.State().Get(journal.KeyMerged); merged {
		p.life = "" // what was compared was not all
	}
	p.outbox.aside = p.setAside
	return p, nil
}

// News is what a reply brought.
type News struct {
	Added []journal.Pair  // new here, to be folded; the phone's own come back with their receipts
	Me    json.RawMessage // who the phone belongs to, when that changed
	Left  []string        // sites whose events were given back
	Moved bool            // something of Standing changed
	Fault string          // the code that ended the turn early, "" for none
}

// Me is who the phone belongs to, as the server said it; nil when nobody did.
func (p *Phone) Me() json.RawMessage {
	raw, _ := p.pool.State().Get(keyMe)
	return raw
}

// Begin begins a turn: a whole one, or one that only sends what was saved. Called during a turn it makes one more
// after it. After Stop every turn only sends.
func (p *Phone) Begin(whole bool) {
	w := justSend
	if whole && !p.paused {
		w = everything
	}
	if p.turn != nil {
		p.again = max(p.again, w)
		return
	}
	p.turn = newTurn(w, p)
}

// Next is what to carry; false when the turn is over. Asked again without a reply it gives the same.
func (p *Phone) Next() (Request, bool) {
	for p.turn != nil {
		if p.turn.at == len(p.turn.stages) {
			p.over()
			continue
		}
		request, some, err := p.turn.stages[p.turn.at].next(p)
		switch {
		case err != nil:
			p.failed(err, &News{})
		case some:
			p.turn.asked = true
			return request, true
		default:
			p.turn.at, p.turn.done = p.turn.at+1, 0
		}
	}
	return Request{}, false
}

// over ends a turn that went through.
func (p *Phone) over() {
	if p.turn.whole {
		p.synced = p.now()
	}
	if p.turn.leaving && p.free() && slices.ContainsFunc(p.pool.Sites(), func(site string) bool { return !p.ours(site) }) {
		p.again = everything // its greeting gives back the sites that waited for this turn
	}
	p.problem, p.wait = p.turn.refused, idle
	p.turn = nil
	if p.again != none {
		p.turn, p.again = newTurn(p.again, p), none
	}
}

// Took takes what came back for the last Next.
func (p *Phone) Took(r Reply) News {
	var news News
	if p.turn == nil || !p.turn.asked {
		return news
	}
	p.turn.asked = false
	stage := &p.turn.stages[p.turn.at]
	err := p.hear(r)
	switch {
	case err == nil:
		p.backoff.Succeeded()
		err = stage.took(p, r.Body, &news)
	case stage.refused != nil:
		err = stage.refused(p, err, &news)
	}
	if err != nil {
		p.failed(err, &news)
	}
	news.Moved = true
	return news
}

// failed ends the turn.
func (p *Phone) failed(err error, news *News) {
	news.Fault = journal.CodeOf(err)
	p.turn, p.again = nil, none
	switch news.Fault {
	case CodeSignedOut, CodeTooOld, CodeServerTooOld:
		p.wait, p.problem = idle, ""
		return
	case CodeOffline:
		p.problem = ""
	default:
		p.problem = news.Fault
	}
	p.wait = p.backoff.Failed(p.env.Jitter())
}

// Wait is the time from the end of a turn until the next whole one should begin by itself.
func (p *Phone) Wait() time.Duration { return p.wait }

// turn is one way through the stages.
type turn struct {
	whole  bool
	stages []stage
	at     int
	asked  bool
	done   int // how many the present stage is through with

	greeted  bool
	renewed  int    // logs begun in this turn
	stranger string // incarnation of a store that was restored and is to be compared with
	refused  string // code with which something was refused that holds back nothing else
	leaving  bool   // sites could not be given back yet

	batch Batch // the push under way

	asks     Frontiers       // the comparison with a restored server that is under way
	holds    holding         // what the phone held when it asked
	compared map[string]bool // logs that were compared
	proven   map[string]bool // hashes of lines that the server has

	passed  map[string]int   // site → how many of its pairs were looked at for it
	fill    fill             // the handing in that is under way
	pulls   []string         // sites still to pull
	behind  int              // how many events of their feeds that is
	counted bool             // the server said so: earlier ones did not
	skip    map[string]bool  // pictures that were refused
	have    map[string]int64 // picture → what the server holds of it
	picture string           // the one that the server was asked for
}

// stage is one part of a turn. next gives its next request, false when it is done. took takes the
// answer, refused (nil: any refusal ends the turn) the fault that came instead. left (nil: it is never long) says how many
// are left of what it does, below 0 where nobody knows, and which part of the next one is done.
type stage struct {
	next    func(*Phone) (Request, bool, error)
	took    func(*Phone, []byte, *News) error
	refused func(*Phone, error, *News) error
	what    string
	left    func(*Phone) (int, float64)
}

func newTurn(w wish, p *Phone) *turn {
	meet := stage{next: (*Phone).nextMeet, took: (*Phone).tookMeet, refused: (*Phone).refusedMeet}
	push := stage{(*Phone).nextPush, (*Phone).tookPush, nil, Sending, (*Phone).leftToSend}
	t := &turn{whole: w == everything, skip: map[string]bool{}, have: map[string]int64{}, passed: map[string]int{}}
	if t.whole {
		p.turns++
		t.stages = []stage{meet, {next: (*Phone).nextCompare, took: (*Phone).tookCompare}, push,
			{next: (*Phone).nextFill, took: (*Phone).tookFill}, {(*Phone).nextPull, (*Phone).tookPull, nil, Fetching, (*Phone).leftToPull},
			{(*Phone).nextPicture, (*Phone).tookPicture, (*Phone).refusedPicture, Picturing, (*Phone).leftToPicture},
			{(*Phone).nextPhoto, (*Phone).tookPhoto, (*Phone).refusedPhoto, Holding, (*Phone).leftToHold}}
	} else {
		t.stages = []stage{meet, push}
	}
	return t
}

func (p *Phone) now() string { return journal.Stamp(p.env.Now()) }

// put keeps values together, flushed, or none.
func (p *Phone) put(values map[string]any) error {
	raws := map[string]json.RawMessage{}
	for key, value := range values {
		raw, err := lightjson.Marshal(value)
		if err != nil {
			return err
		}
		raws[key] = raw
	}
	return p.pool.State().Put(raws)
}

// ours says whether a site is one of the person's.
func (p *Phone) ours(site string) bool {
	return slices.ContainsFunc(p.me.Sites, func(s siteID) bool { return s.ID == site })
}
