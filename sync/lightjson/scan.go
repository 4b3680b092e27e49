package lightjson

// scan walks over JSON text.
type scan struct {
	data []byte
	at   int
}

// Valid says whether data is one JSON value.
func Valid(data []byte) bool {
	s := scan{data: data}
	return s.whole()
}

// whole skips one value and asks that nothing follows it.
func (s *scan) whole() bool {
	if !s.skip() {
		return false
	}
	s.blank()
	return s.at == len(s.data)
}

func (s *scan) blank() {
	for s.at < len(s.data) {
		switch s.data[s.at] {
		case ' ', '\t', '\n', '\r':
			s.at++
		default:
			return
		}
	}
}

// peek is the next byte that is no blank, 0 at the end.
func (s *scan) peek() byte {
	s.blank()
	if s.at == len(s.data) {
		return 0
	}
	return s.data[s.at]
}

// is takes the byte c where it comes next.
func (s *scan) is(c byte) bool {
	if s.peek() != c || c == 0 {
		return false
	}
	s.at++
	return true
}

// skip passes over one value. It does not call itself: a text may be as deep as it is long, and a phone's stack is small.
func (s *scan) skip() bool {
	var open []byte // the brackets that are open
	for {
		switch c := s.peek(); {
		case c == '{' || c == '[':
			s.at++
			open = append(open, c)
			if len(open) > deepest {
				return false
			}
			if s.peek() != c+2 {
				if !s.begins(c) {
					return false
				}
				continue
			}
		case !s.single(c):
			return false
		}
		var ok bool
		if open, ok = s.closing(open); !ok || len(open) == 0 {
			return ok
		}
	}
}

// begins takes what stands before the value of a member: its name in an object, nothing in a list.
func (s *scan) begins(bracket byte) bool { return bracket == '[' || s.key() }

// closing takes the brackets that close after a value, and then what leads to the next one.
func (s *scan) closing(open []byte) (left []byte, ok bool) {
	for len(open) > 0 {
		c := open[len(open)-1]
		if s.is(',') {
			return open, s.begins(c)
		}
		if !s.is(c + 2) { // in ASCII a bracket's end stands two places after it
			return open, false
		}
		open = open[:len(open)-1]
	}
	return nil, true
}

// single passes over a value without members, which begins with c.
func (s *scan) single(c byte) bool {
	switch c {
	case '"':
		_, ok := s.quoted()
		return ok
	case 't':
		return s.word("true")
	case 'f':
		return s.word("false")
	case 'n':
		return s.word("null")
	default:
		_, ok := s.number()
		return ok
	}
}

func (s *scan) key() bool {
	if s.peek() != '"' {
		return false
	}
	_, ok := s.quoted()
	return ok && s.is(':')
}

func (s *scan) word(w string) bool {
	if len(s.data)-s.at < len(w) || string(s.data[s.at:s.at+len(w)]) != w {
		return false
	}
	s.at += len(w)
	return true
}

// quoted gives the text between two quotes, its escapes checked and left in it.
func (s *scan) quoted() (text []byte, ok bool) {
	s.at++
	from := s.at
	for s.at < len(s.data) {
		switch c := s.data[s.at]; {
		case c == '"':
			s.at++
			return s.data[from : s.at-1], true
		case c < ' ':
			return nil, false
		case c == '\\':
			if !s.escape() {
				return nil, false
			}
		default:
			s.at++
		}
	}
	return nil, false
}

func (s *scan) escape() bool {
	s.at++
	if s.at == len(s.data) {
		return false
	}
	c := s.data[s.at]
	s.at++
	switch c {
	case '"', '\\', '/', 'b', 'f', 'n', 'r', 't':
		return true
	case 'u':
		_, ok := hex4(s.data[s.at:])
		s.at += 4
		return ok
	}
	return false
}

// hex4 reads four hexadecimal digits.
func hex4(text []byte) (r rune, ok bool) {
	if len(text) < 4 {
		return 0, false
	}
	for _, c := range text[:4] {
		switch {
		case '0' <= c && c <= '9':
			c -= '0'
		case 'a' <= c && c <= 'f':
			c -= 'a' - 10
		case 'A' <= c && c <= 'F':
			c -= 'A' - 10
		default:
			return 0, false
		}
		r = r<<4 | rune(c)
	}
	return r, true
}

// number gives the text of a number.
func (s *scan) number() (text []byte, ok bool) {
	from := s.at
	s.one('-')
	if !s.one('0') && !s.digits() {
		return nil, false
	}
	if s.one('.') && !s.digits() {
		return nil, false
	}
	if s.one('e') || s.one('E') {
		if !s.one('+') {
			s.one('-')
		}
		if !s.digits() {
			return nil, false
		}
	}
	return s.data[from:s.at], true
}

func (s *scan) one(c byte) bool {
	if s.at == len(s.data) || s.data[s.at] != c {
		return false
	}
	s.at++
	return true
}

func (s *scan) digits() bool {
	from := s.at
	for s.at < len(s.data) && '0' <= s.data[s.at] && s.data[s.at] <= '9' {
		s.at++
	}
	return s.at > from
}
