package journal

import (
	"bytes"

	"jointwalk/sync/lightjson"
	"jointwalk/sync/sha"
)

const (
	// MaxPicture is the largest picture in bytes.
	MaxPicture = 8 << 20

	picturePrefix = `{"picture":"`
	pictureKey    = "picture:" // in State: this picture was confirmed
	droppedKey    = "dropped:" // in State: the bytes of this picture are to be overwritten

	// pictureFile is the length of a file at which the next picture goes into another one.
	pictureFile = 4 << 20
)

// Picture is one picture on this device.
type Picture struct {
	Hash      string // hex SHA-256 of its bytes
	Size      int
	At        string // when it was taken, TimeLayout; "" for one that an earlier build kept
	Confirmed bool   // the server has it
}

// Pictures are the pictures of this device, in files of their own: those that wait for the server, and confirmed
// ones as long as nothing else wants their room, so that a restored server can be given them again. In a file a framed
// head {"picture":hash,"size":n,"at":time} is followed by the bytes and a newline.
type Pictures struct {
	files   []*slot               // oldest first; the newest is written
	claim   func() (*slot, error) // finds another file for them
	release func(*slot) error     // gives one back
	state   *State
	entries []pictureEntry
	damage  Damage
	limit   int64 // the length at which another file is taken
}

// pictureHead is the framed line before a picture's bytes.
type pictureHead struct {
	Picture string `json:"picture"`
	Size    int    `json:"size"`
	At      string `json:"at,omitempty"`
}

type pictureEntry struct {
	pictureHead
	file    *slot
	offset  int64 // of the bytes
	damaged bool  // its bytes were read and are not those of its hash
	blank   bool  // its bytes were overwritten
}

// open reads the heads of a pictures file, which becomes the newest.
func (p *Pictures) open(file *slot) {
	p.files = append(p.files, file)
	data := file.data
	s := scanner{data: data}
	for at, ok := s.next(); ok; at, ok = s.next() {
		head, isHead := readPictureHead(at.line)
		content := int(at.offset) + len(at.line) + frameExtra
		switch {
		case !isHead:
			p.damage.skip(at)
		case content+head.Size+1 > len(data):
			p.recover(file, len(data)-int(at.offset))
			return
		default:
			blank := isBlank(data[content : content+head.Size])
			p.entries = append(p.entries, pictureEntry{pictureHead: head, file: file, offset: int64(content), blank: blank})
			s.pos, s.queue = content+head.Size+1, nil
		}
	}
	p.recover(file, len(s.tail()))
}

// recover cuts a torn tail.
func (p *Pictures) recover(file *slot, torn int) {
	if p.damage.Torn += torn; torn > 0 {
		_ = file.tape.cut(file.tape.end - int64(torn)) // a failure leaves the tape dirty: tried again before the next write
	}
}

func readPictureHead(line []byte) (head pictureHead, ok bool) {
	if !bytes.HasPrefix(line, []byte(picturePrefix)) || lightjson.Unmarshal(line, &head) != nil {
		return head, false
	}
	if !isTime(head.At) {
		head.At = ""
	}
	return head, isHex(head.Picture, 2*sha.Size) && head.Size > 0 && head.Size <= MaxPicture
}

// Has says whether a picture is here, not whether its bytes are whole.
func (p *Pictures) Has(hash string) bool {
	e := p.find(hash)
	return e != nil && !e.damaged && !p.dropped(hash)
}

// Hold keeps a picture that the server gave, at a time (TimeLayout), flushed: it is confirmed before it is here, so that it
// does not wait to be sent. Errors: those of Add; then it may be here or not.
func (p *Pictures) Hold(hash string, content []byte, at string) error {
	if p.Has(hash) {
		return nil
	}
	if !isPicture(hash, content, at) {
		return &Fault{Code: CodeBadPicture}
	}
	if err := p.state.Set(pictureKey+hash, true); err != nil { // a crash now leaves a mark without a picture, which the next start drops
		return err
	}
	if err := p.append(hash, content, at); err != nil {
		return err
	}
	return p.state.Drop(droppedKey + hash)
}

func isPicture(hash string, content []byte, at string) bool {
	return len(content) > 0 && len(content) <= MaxPicture && isTime(at) && Hash(content) == hash
}

// Add keeps a picture taken at a time (TimeLayout), flushed. The same again waits again. Errors: CodeBadPicture when
// the bytes do not have this hash or are none or more than MaxPicture, or at is no time; CodeNoRoomForSite; those of a write.
func (p *Pictures) Add(hash string, content []byte, at string) error {
	if !isPicture(hash, content, at) {
		return &Fault{Code: CodeBadPicture}
	}
	if e := p.find(hash); e == nil || e.damaged || p.dropped(hash) {
		if err := p.append(hash, content, at); err != nil {
			return err
		}
	}
	return p.state.Drop(droppedKey+hash, pictureKey+hash) // it may have been dropped here, and at the server
}

// append writes a picture behind the others.
func (p *Pictures) append(hash string, content []byte, at string) error {
	file, err := p.room()
	if err != nil {
		return err
	}
	head := pictureHead{Picture: hash, Size: len(content), At: at}
	line, err := lightjson.Marshal(head)
	if err != nil {
		return &Fault{Code: CodeBadPicture, Cause: err}
	}
	buf := frame(nil, line)
	offset := file.tape.end + int64(len(buf))
	if err := file.tape.append(append(append(buf, content...), '\n')); err != nil {
		return err
	}
	p.entries = append(p.entries, pictureEntry{pictureHead: head, file: file, offset: offset})
	return nil
}

// room is the file to write to: another one where the newest is long and one can be had, else the newest.
func (p *Pictures) room() (*slot, error) {
	newest := p.newest()
	if newest != nil && newest.tape.end < p.limit {
		return newest, nil
	}
	s, err := p.claim()
	newest = p.newest() // it may have been given back for the claim
	switch {
	case err != nil && newest == nil:
		return nil, err
	case err != nil:
		return newest, nil
	case newest != nil:
		newest.active = false
	}
	p.files = append(p.files, s)
	return s, nil
}

// newest is the file that is written, nil when there is none.
func (p *Pictures) newest() *slot {
	if len(p.files) == 0 {
		return nil
	}
	return p.files[len(p.files)-1]
}

// find is where a picture was kept last, nil when it is not here or its bytes were overwritten.
//
//go:noinline
func (p *Pictures) find(hash string) *pictureEntry {
	for i := len(p.entries) - 1; i >= 0; i-- {
		if e := &p.entries[i]; e.Picture == hash && !e.blank {
			return e
		}
	}
	return nil
}

//go:noinline
func (p *Pictures) dropped(hash string) bool {
	_, ok := p.state.Get(droppedKey + hash)
	return ok
}

//go:noinline
func (p *Pictures) confirmed(hash string) bool {
	_, ok := p.state.Get(pictureKey + hash)
	return ok
}

// List gives all pictures in the order added, without those that were dropped and those that were found damaged, which
// are told as Damage.
func (p *Pictures) List() []Picture {
	var list []Picture
	for i, e := range p.entries {
		if e.damaged || p.find(e.Picture) != &p.entries[i] || p.dropped(e.Picture) {
			continue
		}
		list = append(list, Picture{Hash: e.Picture, Size: e.Size, At: e.At, Confirmed: p.confirmed(e.Picture)})
	}
	return list
}

// Waiting is the number of pictures not confirmed that can be sent.
func (p *Pictures) Waiting() (n int) {
	for _, picture := range p.List() {
		if !picture.Confirmed {
			n++
		}
	}
	return n
}

// wanted says whether a picture in a file was not confirmed: one that waits, or one that is damaged and kept as it is.
func (p *Pictures) wanted(file *slot) bool {
	for i := range p.entries {
		if e := &p.entries[i]; e.file == file && !e.blank && !p.confirmed(e.Picture) && !p.dropped(e.Picture) {
			return true
		}
	}
	return false
}

// Read gives the bytes of a picture, checked against its hash. Errors: CodeNoPicture,
// CodeBadPicture when they were damaged: a picture that waits does so no more then, and is kept as it is; CodeReadFailed.
func (p *Pictures) Read(hash string) ([]byte, error) {
	e := p.find(hash)
	if e == nil || p.dropped(hash) {
		return nil, &Fault{Code: CodeNoPicture}
	}
	content, err := e.file.tape.read(e.offset, int64(e.Size))
	if err != nil {
		return nil, err
	}
	if Hash(content) != hash {
		if !e.damaged && !p.confirmed(hash) {
			e.damaged = true
			p.damage.Bad++
		}
		return nil, fault(CodeBadPicture, "damaged on this device")
	}
	return content, nil
}

// Confirm marks a picture as held by the server; it stays until its room is wanted. Unknown hashes are no error.
// Errors: those of a write; the picture is confirmed or not, never lost before it is.
func (p *Pictures) Confirm(hash string) error {
	if p.find(hash) == nil || p.confirmed(hash) {
		return nil
	}
	return p.state.Set(pictureKey+hash, true)
}

// Drop takes a picture off this device for good, sent or not: its bytes are overwritten where they stand. Unknown hashes
// are no error, and a picture that was dropped may be added again. Errors: those of a write; then it is to be dropped again.
func (p *Pictures) Drop(hash string) error {
	if p.find(hash) == nil {
		return nil
	}
	if err := p.state.Set(droppedKey+hash, true); err != nil { // first: a start goes on from it
		return err
	}
	return p.overwrite(hash, false)
}

// overwrite blanks the bytes of a picture wherever they stand; again says that those too that seem to be blank may not
// have been flushed.
func (p *Pictures) overwrite(hash string, again bool) (err error) {
	for i := range p.entries {
		e := &p.entries[i]
		if e.Picture != hash || e.blank && !again {
			continue
		}
		bad := e.file.tape.blank(e.offset, int64(e.Size))
		if e.blank = bad == nil; !e.blank {
			err = bad
		}
	}
	return err
}

// Doubt forgets that a picture was confirmed: the server may have dropped it since. Errors: those of a write.
func (p *Pictures) Doubt(hash string) error { return p.state.Drop(pictureKey + hash) }

// Unconfirm forgets all confirmations: the server was restored and may lack what it confirmed.
// Errors: those of a write; then all stay confirmed.
func (p *Pictures) Unconfirm() error { return p.state.Drop(p.state.Keys(pictureKey)...) }

// yield gives back the first file, other than keep, in which no picture waits; false when there is none. A crash
// before its confirmations are forgotten leaves marks without pictures, which the next start drops.
func (p *Pictures) yield(keep *slot) bool {
	if p.state.moving {
		return false
	}
	for i, file := range p.files {
		if file == keep || p.wanted(file) {
			continue
		}
		p.files = append(p.files[:i], p.files[i+1:]...)
		kept, gone := p.entries[:0], []string{}
		for _, e := range p.entries {
			if e.file == file {
				gone = append(gone, pictureKey+e.Picture)
			} else {
				kept = append(kept, e)
			}
		}
		p.entries = kept
		_ = p.release(file) // where it comes back after a restart, its pictures are sent again and known
		p.state.staying = true
		_ = p.state.Drop(gone...) // the next start drops them
		p.state.staying = false
		return true
	}
	return false
}

// tidy ends what an earlier start began: it goes on with what was dropped, and forgets what the state says of pictures that
// are here no more.
func (p *Pictures) tidy() {
	var gone []string
	for _, key := range p.state.Keys(droppedKey) {
		if p.overwrite(key[len(droppedKey):], true) == nil {
			gone = append(gone, key)
		}
	}
	for _, key := range p.state.Keys(pictureKey) {
		if p.find(key[len(pictureKey):]) == nil {
			gone = append(gone, key)
		}
	}
	_ = p.state.Drop(gone...) // a failure: at the next start
}

// Damage is what was found when the files were opened.
func (p *Pictures) Damage() Damage { return p.damage }
