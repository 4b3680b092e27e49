package lightjson

import (
	"unicode/utf16"
	"unicode/utf8"
)

// unquoted is the text that stood between quotes, without its escapes; what is not UTF-8 in it becomes U+FFFD.
func unquoted(text []byte) []byte {
	if simple(text) {
		return text
	}
	out := make([]byte, 0, len(text))
	for len(text) > 0 {
		r, size := utf8.DecodeRune(text)
		if r == '\\' {
			r, size = escaped(text)
		}
		out = utf8.AppendRune(out, r)
		text = text[size:]
	}
	return out
}

// simple says that text is ASCII without an escape: nearly all is.
func simple(text []byte) bool {
	for _, c := range text {
		if c == '\\' || c >= utf8.RuneSelf {
			return false
		}
	}
	return true
}

// escaped is the rune that text begins with an escape of, two of them where they are the halves of one.
func escaped(text []byte) (r rune, size int) {
	switch c := text[1]; c {
	case 'b':
		return '\b', 2
	case 'f':
		return '\f', 2
	case 'n':
		return '\n', 2
	case 'r':
		return '\r', 2
	case 't':
		return '\t', 2
	case 'u':
		return numbered(text)
	default:
		return rune(c), 2
	}
}

const numberedSize = len(`\u0000`)

func numbered(text []byte) (r rune, size int) {
	r, _ = hex4(text[2:])
	if !utf16.IsSurrogate(r) {
		return r, numberedSize
	}
	if rest := text[numberedSize:]; len(rest) >= numberedSize && rest[0] == '\\' && rest[1] == 'u' {
		low, _ := hex4(rest[2:])
		if both := utf16.DecodeRune(r, low); both != utf8.RuneError {
			return both, 2 * numberedSize
		}
	}
	return utf8.RuneError, numberedSize
}

// appendQuoted writes text between quotes.
func appendQuoted(out []byte, text string) []byte {
	out = append(out, '"')
	from := 0 // what stands before it is written
	for i, r := range text {
		size := utf8.RuneLen(r)
		if r == utf8.RuneError {
			_, size = utf8.DecodeRuneInString(text[i:])
		}
		if !mustEscape(r, size) {
			continue
		}
		out = appendEscape(append(out, text[from:i]...), r)
		from = i + size
	}
	return append(append(out, text[from:]...), '"')
}

// mustEscape says that a rune cannot stand for itself: a broken one has size 1, and the two line separators are ends of a
// line to old readers of JavaScript.
func mustEscape(r rune, size int) bool {
	return r < ' ' || r == '"' || r == '\\' || r == '\u2028' || r == '\u2029' || r == utf8.RuneError && size == 1
}

func appendEscape(out []byte, r rune) []byte {
	switch r {
	case '"', '\\':
		return append(out, '\\', byte(r))
	case '\b':
		return append(out, `\b`...)
	case '\f':
		return append(out, `\f`...)
	case '\n':
		return append(out, `\n`...)
	case '\r':
		return append(out, `\r`...)
	case '\t':
		return append(out, `\t`...)
	}
	const digits = "0123456789abcdef"
	return append(out, '\\', 'u', digits[r>>12&15], digits[r>>8&15], digits[r>>4&15], digits[r&15])
}
