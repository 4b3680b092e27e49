package cert

import (
	"bytes"
	"encoding/json"
	"errors"
	"io"
	"net/http"
	"strings"
	"sync"
)

// hearing keeps what an authority last said was wrong, until it has issued a certificate. The library passes on
// neither why a name was not believed nor that a renewal failed.
type hearing struct {
	next http.RoundTripper
	mu   sync.Mutex
	said string
}

func (h *hearing) RoundTrip(r *http.Request) (*http.Response, error) {
	answer, err := h.next.RoundTrip(r)
	if err != nil {
		h.note(err.Error())
		return nil, err
	}
	kind := answer.Header.Get("Content-Type")
	switch {
	case strings.Contains(kind, "pem-certificate-chain"):
		h.note("")
	case strings.Contains(kind, "json"):
		if answer.Body, err = h.read(answer.Body); err != nil {
			return nil, err
		}
	}
	return answer, nil
}

// read notes what a body complains of and gives the body again.
func (h *hearing) read(body io.ReadCloser) (io.ReadCloser, error) {
	text, err := io.ReadAll(io.LimitReader(body, 1<<20))
	if err := errors.Join(err, body.Close()); err != nil {
		return nil, err
	}
	if wrong := complaint(text); wrong != "" {
		h.note(wrong)
	}
	return io.NopCloser(bytes.NewReader(text)), nil
}

func (h *hearing) note(said string) {
	h.mu.Lock()
	defer h.mu.Unlock()
	h.said = said
}

func (h *hearing) heard() string {
	h.mu.Lock()
	defer h.mu.Unlock()
	return h.said
}

// trouble is a problem of RFC 8555, section 6.7.
type trouble struct{ Type, Detail string }

// complaint is the detail of a problem, be it the answer itself or what a challenge came to; "" for none. A nonce that
// was too old is none: it is tried again at once.
func complaint(body []byte) string {
	var answer struct {
		trouble
		Challenges []struct{ Error trouble }
	}
	if json.Unmarshal(body, &answer) != nil || strings.HasSuffix(answer.Type, ":badNonce") {
		return ""
	}
	for _, c := range answer.Challenges {
		if c.Error.Detail != "" {
			return c.Error.Detail
		}
	}
	return answer.Detail
}
