package journal

import "bytes"

// MaxAside bounds the bytes of bad stretches that a Damage carries; the file keeps them all.
const MaxAside = 64 << 10

// Damage tells what was wrong with a file when it was opened.
type Damage struct {
	Torn   int        // bytes cut off the end: a write that was never acknowledged
	Bad    int        // stretches in the middle that could not be read and were skipped
	Broken int        // among the last lines of the own log, those that do not follow the one before them (Log.Verify looks at all)
	Aside  []Fragment // the bytes of Bad, still in the file (at most MaxAside bytes in all)
}

// Fragment is a piece of a file that could not be read.
type Fragment struct {
	Offset int64
	Bytes  []byte
}

// skip counts a piece that is none of its stream and sets its bytes aside; the header of a file is no such piece.
func (d *Damage) skip(p piece) {
	if p.isHeader() {
		return
	}
	d.Bad++
	raw, held := p.bad, 0
	if p.line != nil {
		raw = p.line
	}
	for _, f := range d.Aside {
		held += len(f.Bytes)
	}
	if held+len(raw) <= MaxAside {
		d.Aside = append(d.Aside, Fragment{Offset: p.offset, Bytes: bytes.Clone(raw)})
	}
}
