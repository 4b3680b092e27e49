package journal

import (
	"bytes"
	"crypto/sha256"
	"encoding/json"
)

const (
	// MaxPicture is the largest picture in bytes.
	MaxPicture = 8 << 20

	picturePrefix = `{"picture":"`
	pictureKey    = "picture:" // in State: this picture was confirmed
)

// Picture is one picture on this device.
type Picture struct {
	Hash      string // hex SHA-256 of its bytes
	Size      int
	Confirmed bool // the server has it
}

// Pictures are the pictures of this device that wait for the server. In the file a framed head
// {"picture":hash,"size":n} is followed by the bytes and a newline. The file is emptied when all are confirmed.
type Pictures struct {
	tape    *tape                 // nil until the first picture
	claim   func() (*tape, error) // finds a file for them
	state   *State
	start   int64 // where the file's own header ends
	entries []pictureEntry
	damage  Damage
}

// pictureHead is the framed line before a picture's bytes.
type pictureHead struct {
	Picture string `json:"picture"`
	Size    int    `json:"size"`
}

type pictureEntry struct {
	pictureHead
	offset int64 // of the bytes
}

// open reads the heads of a pictures file.
func (p *Pictures) open(t *tape, data []byte) {
	p.tape = t
	s := scanner{data: data}
	for at, ok := s.next(); ok; at, ok = s.next() {
		head, isHead := readPictureHead(at.line)
		content := int(at.offset) + len(at.line) + frameExtra
		switch {
		case at.line == nil:
			p.damage.skip(at.offset, at.bad)
		case at.offset == 0 && isHeader(at.line):
			p.start = int64(content)
		case !isHead:
			p.damage.skip(at.offset, at.line)
		case content+head.Size+1 > len(data):
			p.recover(len(data) - int(at.offset))
			return
		default:
			p.entries = append(p.entries, pictureEntry{head, int64(content)})
			s.pos, s.queue = content+head.Size+1, nil
		}
	}
	p.recover(len(s.tail()))
}

// recover cuts a torn tail.
func (p *Pictures) recover(torn int) {
	if p.damage.Torn = torn; torn > 0 {
		_ = p.tape.cut(p.tape.end - int64(torn)) // a failure leaves the tape dirty: tried again before the next write
	}
}

func readPictureHead(line []byte) (head pictureHead, ok bool) {
	if !bytes.HasPrefix(line, []byte(picturePrefix)) || json.Unmarshal(line, &head) != nil {
		return head, false
	}
	return head, isHex(head.Picture, 2*sha256.Size) && head.Size > 0 && head.Size <= MaxPicture
}

// Add keeps a picture, flushed. The same again does nothing. Errors: CodeBadPicture when the bytes
// do not have this hash or are none or more than MaxPicture; CodeNoRoomForSite; those of a write.
func (p *Pictures) Add(hash string, content []byte) error {
	if len(content) == 0 || len(content) > MaxPicture || Hash(content) != hash {
		return &Fault{Code: CodeBadPicture}
	}
	if p.find(hash) != nil {
		return nil
	}
	if p.tape == nil {
		t, err := p.claim()
		if err != nil {
			return err
		}
		p.tape, p.start = t, t.end
	}
	head := pictureHead{Picture: hash, Size: len(content)}
	line, err := marshal(head)
	if err != nil {
		return &Fault{Code: CodeBadPicture, Cause: err}
	}
	buf := frame(nil, line)
	offset := p.tape.end + int64(len(buf))
	if err := p.tape.append(append(append(buf, content...), '\n')); err != nil {
		return err
	}
	p.entries = append(p.entries, pictureEntry{head, offset})
	return nil
}

func (p *Pictures) find(hash string) *pictureEntry {
	for i := range p.entries {
		if p.entries[i].Picture == hash {
			return &p.entries[i]
		}
	}
	return nil
}

func (p *Pictures) confirmed(hash string) bool {
	_, ok := p.state.Get(pictureKey + hash)
	return ok
}

// List gives all pictures in the order added.
func (p *Pictures) List() []Picture {
	var list []Picture
	for _, e := range p.entries {
		list = append(list, Picture{Hash: e.Picture, Size: e.Size, Confirmed: p.confirmed(e.Picture)})
	}
	return list
}

// Waiting is the number of pictures not confirmed.
func (p *Pictures) Waiting() int {
	n := 0
	for _, e := range p.entries {
		if !p.confirmed(e.Picture) {
			n++
		}
	}
	return n
}

// Read gives the bytes of a picture, checked against its hash. Errors: CodeNoPicture,
// CodeBadPicture when they were damaged, CodeReadFailed.
func (p *Pictures) Read(hash string) ([]byte, error) {
	e := p.find(hash)
	if e == nil {
		return nil, &Fault{Code: CodeNoPicture}
	}
	content, err := p.tape.read(e.offset, int64(e.Size))
	if err != nil {
		return nil, err
	}
	if Hash(content) != hash {
		return nil, fault(CodeBadPicture, "damaged on this device")
	}
	return content, nil
}

// Confirm marks a picture as held by the server; when all are, the file is emptied. Unknown
// hashes are no error. Errors: those of a write; the picture is confirmed or not, never lost before it is.
func (p *Pictures) Confirm(hash string) error {
	if p.find(hash) == nil {
		return nil
	}
	if err := p.state.Set(pictureKey+hash, true); err != nil {
		return err
	}
	_ = p.free() // what is not freed now is freed at the next start
	return nil
}

// free empties the file when nothing in it waits, then forgets what was confirmed. A crash between
// the two leaves marks without pictures, which the next start drops.
func (p *Pictures) free() error {
	if p.tape == nil || p.Waiting() > 0 {
		return nil
	}
	if len(p.entries) > 0 {
		p.entries = nil // all are with the server, whatever becomes of the cut
		if err := p.tape.cut(p.start); err != nil {
			return err
		}
	}
	return p.state.Drop(p.state.Keys(pictureKey)...)
}

// Damage is what was found when the file was opened.
func (p *Pictures) Damage() Damage { return p.damage }
