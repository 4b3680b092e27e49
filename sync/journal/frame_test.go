package journal

import (
	"bytes"
	"testing"
)

func TestChecksumIsCRC32C(t *testing.T) {
	// RFC 3720, B.4: 32 bytes of zeros give aa 36 91 8a in the order sent (8a9136aa); exact.
	if got := checksum(make([]byte, 32)); got != 0x8a9136aa {
		t.Errorf("%x", got)
	}
	// The customary check value of "123456789" for CRC-32C; from memory; exact.
	if got := string(frame(nil, []byte("123456789"))); got != "123456789\te3069283\n" {
		t.Errorf("%q", got)
	}
}

// scan gives the good lines, the number of bad stretches and the tail.
func scan(data []byte) (good []string, bad int, tail []byte) {
	s := scanner{data: data}
	for p, ok := s.next(); ok; p, ok = s.next() {
		if p.line == nil {
			bad++
			continue
		}
		if !bytes.Equal(data[p.offset:p.offset+int64(len(p.line))], p.line) {
			panic("a piece that does not stand where it says")
		}
		good = append(good, string(p.line))
	}
	return good, bad, s.tail()
}

func three() (data []byte, all []string) {
	all = []string{`{"a":1}`, `{"bb":"x y","c":{"d":1}}`, `{"ccc":3}`}
	for _, line := range all {
		data = frame(data, []byte(line))
	}
	return data, all
}

func TestScanReadsAll(t *testing.T) {
	data, all := three()
	good, bad, tail := scan(data)
	if !same(good, all) || bad != 0 || len(tail) != 0 {
		t.Error(good, bad, tail)
	}
}

func TestTornAtEveryByte(t *testing.T) {
	data, all := three()
	for n := range data {
		good, bad, tail := scan(data[:n])
		whole := bytes.Count(data[:n], []byte("\n"))
		if !same(good, all[:whole]) || bad != 0 || len(tail) != n-(bytes.LastIndexByte(data[:n], '\n')+1) {
			t.Errorf("cut at %d: %v, %d bad, %d tail", n, good, bad, len(tail))
		}
	}
}

// Whatever one byte of the middle line becomes, its newline and checksum included, both neighbours are read.
func TestABadByteTakesNoNeighbourAlong(t *testing.T) {
	data, all := three()
	from, to := len(frame(nil, []byte(all[0]))), len(data)-len(frame(nil, []byte(all[2])))
	for at := from; at < to; at++ {
		for _, b := range []byte{0, '\n', '\t', '{', '"', 'x', 0xff, data[at] ^ 1} {
			if b == data[at] {
				continue
			}
			hurt := bytes.Clone(data)
			hurt[at] = b
			good, bad, _ := scan(hurt)
			newline := at == to-1
			if newline && !same(good, all) {
				t.Errorf("byte %d as %q: a lost newline lost a line: %q", at, b, good)
			}
			if !newline && (!same(good, []string{all[0], all[2]}) || bad == 0) {
				t.Errorf("byte %d as %q: %q, %d bad", at, b, good, bad)
			}
		}
	}
}

func TestAStretchOfZerosOverABoundary(t *testing.T) {
	data, all := three()
	end := len(data) - len(frame(nil, []byte(all[2])))
	hurt := bytes.Clone(data)
	for i := end - 6; i < end; i++ {
		hurt[i] = 0
	}
	good, bad, _ := scan(hurt)
	if !same(good, []string{all[0], all[2]}) || bad != 1 {
		t.Errorf("%q, %d bad", good, bad)
	}
}

func TestChecksumIsLowerCaseOnly(t *testing.T) {
	if _, _, ok := unframe([]byte("123456789\tE3069283")); ok {
		t.Error("upper case was taken: two forms of one line")
	}
	for _, bad := range []string{"", "\t", "12345678", "123456789\te306928", "123456789 e3069283"} {
		if _, _, ok := unframe([]byte(bad)); ok {
			t.Errorf("%q was taken", bad)
		}
	}
}

func TestSalvageIsBounded(t *testing.T) {
	raw := bytes.Repeat([]byte("{\"\t00000000"), 5000)
	if found := salvage(raw, 0); len(found) != 1 || len(found[0].bad) != len(raw) {
		t.Errorf("%d pieces", len(found))
	}
}
