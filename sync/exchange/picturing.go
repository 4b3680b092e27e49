package exchange

import (
	"strconv"

	"jointwalk/sync/journal"
	"jointwalk/sync/lightjson"
)

// MaxChunk bounds one piece of a picture: what is sent again after a broken connection is less than two.
const MaxChunk = 128 << 10

// nextPicture asks how much the server has of the first picture that waits, then sends the next piece.
func (p *Phone) nextPicture() (Request, bool, error) {
	picture, some := p.waitingPicture()
	if !some {
		return Request{}, false, nil
	}
	p.turn.picture = picture.Hash
	have, asked := p.turn.have[picture.Hash]
	if !asked {
		return Request{Method: methodGet, Path: PathPictures + picture.Hash + "/part"}, true, nil
	}
	content, err := p.pool.Pictures().Read(picture.Hash)
	if err != nil {
		p.turn.skip[picture.Hash], p.turn.refused = true, journal.CodeOf(err)
		return p.nextPicture()
	}
	piece := content[min(int(have), len(content)):]
	path := PathPictures + picture.Hash + "?offset=" + strconv.FormatInt(have, 10) + "&size=" + strconv.Itoa(len(content))
	return Request{Method: "PATCH", Path: path, Type: typeChunk, Body: piece[:min(len(piece), MaxChunk)]}, true, nil
}

func (p *Phone) waitingPicture() (journal.Picture, bool) {
	for _, picture := range p.pool.Pictures().List() {
		if !picture.Confirmed && !p.turn.skip[picture.Hash] {
			return picture, true
		}
	}
	return journal.Picture{}, false
}

// leftToPicture counts the pictures that wait, and says how much of the first the server has.
func (p *Phone) leftToPicture() (left int, part float64) {
	for _, picture := range p.pool.Pictures().List() {
		if picture.Confirmed || p.turn.skip[picture.Hash] {
			continue
		}
		if left++; left == 1 {
			part = float64(p.turn.have[picture.Hash]) / float64(picture.Size)
		}
	}
	return left, part
}

// tookPicture hears how much the server has now of the picture that it was asked for, which may have been dropped since.
func (p *Phone) tookPicture(body []byte, _ *News) error {
	hash := p.turn.picture
	var part Part
	if lightjson.Unmarshal(body, &part) != nil || part.Have < 0 {
		return badAnswer("part")
	}
	if part.Whole {
		p.turn.done++
		return p.pool.Pictures().Confirm(hash)
	}
	before, asked := p.turn.have[hash]
	if asked && part.Have <= before { // no piece may be for nothing twice
		p.turn.skip[hash] = true
	}
	p.turn.have[hash] = part.Have
	return nil
}

// refusedPicture passes over a picture that the server does not take, so that it holds back no other.
func (p *Phone) refusedPicture(refusal error, _ *News) error {
	switch code := journal.CodeOf(refusal); code {
	case CodeNotAPicture, CodeLocated, CodeWrongHash, CodeTooLarge, CodeBadHash:
		p.turn.skip[p.turn.picture], p.turn.refused = true, code
		return nil
	case CodeWithdrawn:
		return p.withdrawn(p.turn.picture)
	}
	return refusal
}

// withdrawn drops a picture that the server never wants again. One of which this device has something to say that the
// server may not have heard yet only waits for the next turn.
func (p *Phone) withdrawn(hash string) error {
	p.turn.skip[hash] = true
	if p.env.Wanted != nil && p.env.Wanted(hash) {
		return nil
	}
	return p.pool.Pictures().Drop(hash)
}
