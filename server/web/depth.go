package web

import (
	"encoding/json"
	"fmt"

	"github.com/danielgtaylor/huma/v2"
)

// deepest is how far values of a request may stand within others: far more than any of ours do.
const deepest = 32

// shallowJSON is JSON as it may come in.
var shallowJSON = huma.Format{Marshal: huma.DefaultJSONFormat.Marshal, Unmarshal: unmarshal}

// unmarshal is that of encoding/json for values that are not too deep: what reads them calls itself.
func unmarshal(text []byte, into any) error {
	if depth(text) > deepest {
		return fmt.Errorf("values stand more than %d deep within others", deepest)
	}
	return json.Unmarshal(text, into)
}

// depth is how far values stand within others in a JSON text; of what is none, some number.
func depth(text []byte) (most int) {
	at, quoted := 0, false
	for i := 0; i < len(text); i++ {
		switch sign := text[i]; {
		case quoted && sign == '\\':
			i++
		case sign == '"':
			quoted = !quoted
		case !quoted && (sign == '{' || sign == '['):
			at++
			most = max(most, at)
		case !quoted && (sign == '}' || sign == ']'):
			at--
		}
	}
	return most
}
