package journal

import (
	"bytes"
	"encoding/hex"
	"hash/crc32"
)

// In a file each line is framed: <json> TAB <CRC-32C as 8 hex digits> NEWLINE. The checksum guards the
// file; the chain of hashes guards the exchange. A tab cannot stand inside JSON that this package wrote.

// frameExtra is what framing adds to a line.
const frameExtra = 10

// usualLine is about as long as a line is, to make room for an index at once.
const usualLine = 512

// maxTries bounds the search for lines inside a damaged stretch.
const maxTries = 256

var castagnoli = crc32.MakeTable(crc32.Castagnoli)

func checksum(line []byte) uint32 { return crc32.Checksum(line, castagnoli) }

// frame appends the framed line to buf.
func frame(buf, line []byte) []byte {
	c := checksum(line)
	buf = append(buf, line...)
	buf = append(buf, '\t')
	buf = hex.AppendEncode(buf, []byte{byte(c >> 24), byte(c >> 16), byte(c >> 8), byte(c)})
	return append(buf, '\n')
}

// unframe checks a framed line given without its newline.
func unframe(framed []byte) (line []byte, sum uint32, ok bool) {
	cut := len(framed) - 9
	if cut < 0 || framed[cut] != '\t' {
		return nil, 0, false
	}
	for _, c := range framed[cut+1:] {
		switch {
		case c >= '0' && c <= '9':
			sum = sum<<4 | uint32(c-'0')
		case c >= 'a' && c <= 'f':
			sum = sum<<4 | uint32(c-'a'+10)
		default:
			return nil, 0, false
		}
	}
	return framed[:cut], sum, checksum(framed[:cut]) == sum
}

// piece is one stretch of a file: a good line, or bytes that could not be read (line nil).
type piece struct {
	offset int64
	line   []byte
	sum    uint32 // checksum of line
	bad    []byte
}

// scanner walks over the pieces of a file's bytes.
type scanner struct {
	data  []byte
	pos   int
	queue []piece
}

// next is the next piece; false at the end or before a torn tail.
func (s *scanner) next() (piece, bool) {
	for len(s.queue) == 0 {
		n := bytes.IndexByte(s.data[s.pos:], '\n')
		if n < 0 {
			return piece{}, false
		}
		start, framed := s.pos, s.data[s.pos:s.pos+n]
		s.pos += n + 1
		if line, sum, ok := unframe(framed); ok {
			return piece{offset: int64(start), line: line, sum: sum}, true
		}
		s.queue = salvage(framed, int64(start))
	}
	p := s.queue[0]
	s.queue = s.queue[1:]
	return p, true
}

// tail is what stands after the last newline.
func (s *scanner) tail() []byte { return s.data[s.pos:] }

// salvage looks for whole lines inside a stretch whose checksum fails, so that a damaged newline or
// checksum does not take the neighbour along.
func salvage(raw []byte, offset int64) (found []piece) {
	tries, start := 0, 0
	for end := start; tries < maxTries; end++ {
		n := bytes.IndexByte(raw[end:], '\t')
		if n < 0 || end+n+9 > len(raw) {
			break
		}
		end += n
		from, ok := begin(raw[:end+9], start, &tries)
		if !ok {
			continue
		}
		if from > start {
			found = append(found, piece{offset: offset + int64(start), bad: raw[start:from]})
		}
		found = append(found, piece{offset: offset + int64(from), line: raw[from:end], sum: checksum(raw[from:end])})
		start = min(end+frameExtra, len(raw))
		end = start - 1
	}
	if start < len(raw) || len(raw) == 0 {
		found = append(found, piece{offset: offset + int64(start), bad: raw[start:]})
	}
	return found
}

// begin finds where, from start on, a whole framed line begins that ends where framed ends.
func begin(framed []byte, start int, tries *int) (int, bool) {
	for at := start; at < len(framed) && *tries < maxTries; at++ {
		*tries++
		if _, _, ok := unframe(framed[at:]); ok {
			return at, true
		}
		n := bytes.Index(framed[at+1:], []byte(`{"`))
		if n < 0 {
			return 0, false
		}
		at += n
	}
	return 0, false
}
