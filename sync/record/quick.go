package record

import (
	"bytes"
	"strconv"
)

// quickLook reads the body of a plain look by bytes: no note, no observation, no
// letter beyond ASCII. Nine of ten events are such looks, and a phone replays
// twenty thousand at its start. It says false for every other body, which goes
// the usual way.
func quickLook(body []byte, look *Look) bool {
	rest, ok := bytes.CutPrefix(body, []byte("{"))
	for ok {
		var key, value []byte
		if key, rest, ok = plainText(rest); !ok || len(rest) < 2 || rest[0] != ':' {
			return false
		}
		rest = rest[1:]
		if rest[0] == '"' {
			if value, rest, ok = plainText(rest); !ok || !look.setText(key, value) {
				return false
			}
		} else {
			end := bytes.IndexAny(rest, ",}")
			if end < 0 || !look.setPlain(key, rest[:end]) {
				return false
			}
			rest = rest[end:]
		}
		if string(rest) == "}" {
			return true
		}
		rest, ok = bytes.CutPrefix(rest, []byte(","))
	}
	return false
}

// plainText reads a text in quotes without escapes, and gives what follows it.
func plainText(raw []byte) (text, rest []byte, ok bool) {
	if len(raw) == 0 || raw[0] != '"' {
		return nil, nil, false
	}
	for i, c := range raw[1:] {
		switch {
		case c == '"':
			return raw[1 : i+1], raw[i+2:], true
		case c == '\\' || c < ' ' || c > '~':
			return nil, nil, false
		}
	}
	return nil, nil, false
}

func (l *Look) setText(key, value []byte) bool {
	switch string(key) {
	case "round":
		l.Round = string(value)
	case "joint":
		l.Joint = string(value)
	case "result":
		l.Result = plainResult(value)
	case "why":
		l.Why = string(value)
	case "wiped":
		l.Wiped = string(value)
	case "second":
		l.Second = string(value)
	case "spot":
		l.Spot = string(value)
	case "vented":
		l.Vented = string(value)
	case "wetted":
		l.Wetted = string(value)
	default:
		return false
	}
	return true
}

// plainResult spares the copy of a known result.
func plainResult(value []byte) Result {
	for _, r := range Results {
		if string(r) == string(value) {
			return r
		}
	}
	return Result(value)
}

func (l *Look) setPlain(key, value []byte) bool {
	switch string(key) {
	case "stayed":
		return plainBool(value, &l.Stayed)
	case "back":
		return plainBool(value, &l.Back)
	case "seconds":
		return plainNumber(value, &l.Seconds)
	}
	return false
}

func plainBool(value []byte, into *bool) bool {
	*into = string(value) == "true"
	return *into || string(value) == "false"
}

// plainNumber reads digits, with a point between digits or without.
func plainNumber(value []byte, into *float64) bool {
	point := bytes.IndexByte(value, '.')
	for i, c := range value {
		if (c < '0' || c > '9') && i != point {
			return false
		}
	}
	if len(value) == 0 || point == 0 || point == len(value)-1 || value[0] == '0' && point != 1 && len(value) > 1 {
		return false
	}
	n, err := strconv.ParseFloat(string(value), 64)
	*into = n
	return err == nil
}
