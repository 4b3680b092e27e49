package cert

import (
	"bytes"
	"crypto/x509"
	"net/http"
	"net/http/httptest"
	"reflect"
	"strings"
	"testing"
)

func get(t *testing.T, h http.Handler, path, accept string) *httptest.ResponseRecorder {
	t.Helper()
	r := httptest.NewRequest("GET", path, nil)
	r.Header.Set("Accept-Language", accept)
	w := httptest.NewRecorder()
	h.ServeHTTP(w, r)
	return w
}

func TestTrustPage(t *testing.T) {
	l := open(t, t.TempDir(), bench(t), &clock{start})
	h := Trust(l.Authority(), "https://bench-pc:8080")
	for _, c := range []struct{ path, accept, lang string }{
		{"/trust", "", "en"}, {"/trust", "es-MX,en;q=0.5", "es"}, {"/trust", "fr, en", "en"}, {"/trust?lang=es", "en", "es"}, {"/trust?lang=xx", "es", "es"},
	} {
		w := get(t, h, c.path, c.accept)
		body := w.Body.String()
		if w.Code != 200 || w.Header().Get("Content-Language") != c.lang || !strings.Contains(body, words[c.lang].Download) {
			t.Errorf("%v: %d %v", c, w.Code, w.Header())
		}
		for _, line := range groups(Fingerprint(l.Authority())) {
			if !strings.Contains(body, line) {
				t.Errorf("%v: fingerprint line %s missing", c, line)
			}
		}
		if !strings.Contains(body, `href="https://bench-pc:8080"`) || strings.Contains(body, "<script") || strings.Contains(body, "style=") {
			t.Errorf("%v: %s", c, body)
		}
	}
}

func TestTrustDownload(t *testing.T) {
	l := open(t, t.TempDir(), bench(t), &clock{start})
	w := get(t, Trust(l.Authority(), "https://bench-pc"), crtPath, "")
	if w.Header().Get("Content-Type") != "application/x-x509-ca-cert" || !bytes.Equal(w.Body.Bytes(), l.Authority()) {
		t.Errorf("%v", w.Header())
	}
	got, err := x509.ParseCertificate(w.Body.Bytes())
	if err != nil || !got.IsCA {
		t.Errorf("%v %v", got, err)
	}
}

func TestTrustServesNothingElse(t *testing.T) {
	h := Trust([]byte("ca"), "https://bench-pc")
	for _, path := range []string{"/", "/api/hello", "/trust/", "/trust/authority.pem", "/index.html", "/t/ABC"} {
		if w := get(t, h, path, ""); w.Code != 404 {
			t.Errorf("%s: %d", path, w.Code)
		}
	}
	r := httptest.NewRequest("POST", "/trust", nil)
	w := httptest.NewRecorder()
	h.ServeHTTP(w, r)
	if w.Code == 200 || w.Header().Get("X-Content-Type-Options") != "nosniff" || w.Header().Get("Content-Security-Policy") != trustCSP || w.Header().Get("Permissions-Policy") == "" {
		t.Errorf("POST: %d %v", w.Code, w.Header())
	}
}

// Each language says everything: no field empty, the same devices, the same number of steps.
func TestTrustWordsAreComplete(t *testing.T) {
	en := words["en"]
	for lang, w := range words {
		v := reflect.ValueOf(*w)
		for i := range v.NumField() {
			if v.Field(i).IsZero() {
				t.Errorf("%s: %s is empty", lang, v.Type().Field(i).Name)
			}
		}
		if len(w.Ways) != len(en.Ways) || words[w.other.Lang] == nil {
			t.Errorf("%s: %d ways, other %q", lang, len(w.Ways), w.other.Lang)
			continue
		}
		for i := range w.Ways {
			if len(w.Ways[i].Steps) != len(en.Ways[i].Steps) {
				t.Errorf("%s: %s", lang, w.Ways[i].Device)
			}
		}
	}
}
