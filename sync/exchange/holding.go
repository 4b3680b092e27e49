package exchange

import (
	"slices"

	"jointwalk/sync/journal"
)

// nextPhoto asks for the first photo that is to be held here and is not. Whatever else waits goes first: a photo is no record,
// and at the edge of the network it takes long.
func (p *Phone) nextPhoto() (Request, bool, error) {
	coming := p.photosToCome()
	if len(coming) == 0 || p.again != none {
		return Request{}, false, nil
	}
	p.turn.picture = coming[0]
	return Request{Method: methodGet, Path: PathPictures + coming[0]}, true, nil
}

// photosToCome are the photos that are to be held here and are not. One that was asked for in vain, or had to give its room away
// again, is asked for in each second whole turn, then in each fourth, and so on.
func (p *Phone) photosToCome() (hashes []string) {
	if p.env.Photos == nil {
		return nil
	}
	for _, hash := range p.env.Photos() {
		if !p.turn.skip[hash] && p.turns&(1<<p.tries[hash]-1) == 0 && !p.pool.Pictures().Has(hash) {
			hashes = append(hashes, hash)
		}
	}
	return hashes
}

func (p *Phone) leftToHold() (int, float64) { return len(p.photosToCome()), 0 }

// mostTries bounds how rarely a photo is asked for: once in 64 whole turns, about an hour.
const mostTries = 6

func (p *Phone) tried() {
	hash := p.turn.picture
	p.turn.skip[hash] = true
	p.tries[hash] = min(p.tries[hash]+1, mostTries)
}

// tookPhoto keeps a photo, unless it was withdrawn while it was on its way. One that cannot be kept, for want of room or as
// it is not what it was to be, holds up nothing.
func (p *Phone) tookPhoto(body []byte, _ *News) error {
	p.tried()
	hash := p.turn.picture
	if slices.Contains(p.env.Photos(), hash) && p.pool.Pictures().Hold(hash, body, p.now()) == nil {
		p.turn.done++
	}
	return nil
}

// refusedPhoto passes over a photo that the server does not have yet, or does not give.
func (p *Phone) refusedPhoto(refusal error, _ *News) error {
	p.tried()
	switch journal.CodeOf(refusal) {
	case CodeOffline, CodeSignedOut:
		return refusal
	}
	return nil
}
