package exchange

// Doing is how far a turn is with one of its long parts.
type Doing struct {
	What string // one of the constants below
	Done int    // events, or pictures, that this turn is through with
	Of   int    // how many there are with those that are left, 0 where nobody knows
	// Gone is Done with the part of the next one that is done, for a bar that ends at Of.
	Gone float64
}

// What a turn may be at for long.
const (
	Sending   = "send"     // events, to the server
	Fetching  = "fetch"    // events, from the server
	Picturing = "pictures" // pictures, to the server
	Holding   = "photos"   // photos of fixtures, from the server
)

// doing is nil between two turns, and for what takes one request: nobody could read it.
func (p *Phone) doing() *Doing {
	if p.turn == nil || p.turn.at >= len(p.turn.stages) {
		return nil
	}
	stage := p.turn.stages[p.turn.at]
	if stage.left == nil {
		return nil
	}
	left, part := stage.left(p)
	d := &Doing{What: stage.what, Done: p.turn.done, Gone: float64(p.turn.done) + part}
	if d.Gone == 0 || left == 0 {
		return nil
	}
	if left > 0 {
		d.Of = d.Done + left
	}
	return d
}

// Stop ends the turn where it is. What it brought stays, and what was on its way is asked for again by the turn that goes on:
// to the files it is like a connection that broke. Until Resume, or the next start, nothing is fetched and no picture is
// sent; what is saved is sent all the same, since it is little and nowhere safer than at the server.
func (p *Phone) Stop() { p.turn, p.again, p.paused, p.wait = nil, none, true, idle }

// Resume lets whole turns be whole again after Stop.
func (p *Phone) Resume() { p.paused = false }
