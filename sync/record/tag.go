package record

import (
	"encoding/hex"
	"io"
	"strconv"
	"strings"

	"jointwalk/sync/sha"
)

// alphabet36 gives the character values of ISO/IEC 7064 MOD 37,36.
const alphabet36 = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ"

// crockford is the alphabet of a tag's ten characters: no I, L, O, U.
const crockford = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"

const tagLength = 10

// What ParseTag says of a text that is no good tag.
const (
	TagDamaged = "tag-damaged" // right shape, wrong check character
	TagForeign = "tag-foreign" // not a tag of ours
)

// MintTag draws a tag's code: ten Crockford characters (50 bits) and the check
// character of ISO/IEC 7064 MOD 37,36. Codes whose check character would be I,
// L, O or U are drawn again, so that every character can be read aloud.
func MintTag(random io.Reader) (string, error) {
	for {
		raw := make([]byte, tagLength)
		if _, err := io.ReadFull(random, raw); err != nil {
			return "", err
		}
		for i, b := range raw {
			raw[i] = crockford[b&31]
		}
		check := CheckCharacter(string(raw))
		if strings.IndexByte(crockford, check) >= 0 {
			return string(raw) + string(check), nil
		}
	}
}

// CheckCharacter returns the ISO/IEC 7064 MOD 37,36 check character of a text
// of 0–9 and A–Z. Other characters make it panic: callers filter first.
func CheckCharacter(text string) byte {
	const m = 36
	p := m
	for i := 0; i < len(text); i++ {
		value := strings.IndexByte(alphabet36, text[i])
		if value < 0 {
			panic("record: check character of a text outside 0-9, A-Z")
		}
		s := (p + value) % m
		if s == 0 {
			s = m
		}
		p = s * 2 % (m + 1)
	}
	return alphabet36[(m+1-p)%m]
}

// ParseTag takes a tag's code out of what was scanned or typed: the code
// alone, grouped by spaces or dashes, in lower case, with O for 0 and I or L
// for 1; or a link that ends in /t/CODE. It returns the code, or the problem
// TagDamaged or TagForeign.
func ParseTag(text string) (code, problem string) {
	code = plainTag(afterLink(strings.TrimSpace(text)))
	if len(code) != tagLength+1 {
		return "", TagForeign
	}
	for i := 0; i < len(code); i++ {
		if strings.IndexByte(crockford, code[i]) < 0 {
			return "", TagForeign
		}
	}
	if CheckCharacter(code[:tagLength]) != code[tagLength] {
		return code, TagDamaged
	}
	return code, ""
}

// afterLink returns what follows the last "/t/" of a link, or the text itself.
func afterLink(text string) string {
	upper := strings.ToUpper(text)
	at := strings.LastIndex(upper, "/T/")
	if at < 0 {
		return upper
	}
	return strings.TrimSuffix(upper[at+len("/T/"):], "/")
}

// plainTag drops grouping and mends the characters people confuse.
func plainTag(text string) string {
	return strings.Map(func(c rune) rune {
		switch c {
		case ' ', '-':
			return -1
		case 'O':
			return '0'
		case 'I', 'L':
			return '1'
		}
		return c
	}, text)
}

// FixtureID is the id of the fixture registered under a tag at an
// installation: UUIDv5 of both, so that two phones registering one blank tag
// mean the same fixture. An installation that is no UUID gives "".
func FixtureID(installation, tag string) string {
	space, ok := unhex(strings.ReplaceAll(installation, "-", ""))
	if !ok || len(space) != 16 || len(installation) != 36 {
		return ""
	}
	sum := sha.Sum1(append(space, tag...)) // RFC 9562, 5.5: the name-based form
	sum[6] = sum[6]&0x0f | 0x50
	sum[8] = sum[8]&0x3f | 0x80
	text := hex.EncodeToString(sum[:16])
	return strings.Join([]string{text[:8], text[8:12], text[12:16], text[16:20], text[20:]}, "-")
}

// unhex reads pairs of hexadecimal digits. (The standard library's words its errors with fmt, which nothing else on the phone
// brings.)
func unhex(text string) (out []byte, ok bool) {
	for ; len(text) >= 2; text = text[2:] {
		n, err := strconv.ParseUint(text[:2], 16, 8)
		if err != nil {
			return nil, false
		}
		out = append(out, byte(n))
	}
	return out, text == ""
}
