package cert

import (
	"bytes"
	"crypto/sha256"
	"crypto/x509"
	"encoding/hex"
	"net/http"
	"net/http/httptest"
	"reflect"
	"regexp"
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

// The fingerprint on the page is the SHA-256 of the file that is downloaded, as sha256sum would tell it.
func TestTrustFingerprintIsThatOfTheFile(t *testing.T) {
	h := Trust(open(t, t.TempDir(), bench(t), &clock{start}).Authority(), "https://bench-pc")
	sum := sha256.Sum256(get(t, h, crtPath, "").Body.Bytes())
	shown := ""
	for _, line := range regexp.MustCompile(`<code>([0-9A-F:]+)</code>`).FindAllStringSubmatch(get(t, h, trustPath, "").Body.String(), -1) {
		shown += line[1]
	}
	if strings.ToLower(strings.ReplaceAll(shown, ":", "")) != hex.EncodeToString(sum[:]) {
		t.Errorf("%s is shown, the file has %x", shown, sum)
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

// The devices that people have are named, and what must not be forgotten on each (from memory, as the steps are).
func TestTrustNamesEachDevice(t *testing.T) {
	must := map[string][]string{
		"en": {"Android", "CA certificate", "iPhone", "Certificate Trust Settings", "Windows", "Trusted Root", "Mac", "Always trust"},
		"es": {"Android", "certificado de CA", "iPhone", "Ajustes de confianza de certificados", "Windows", "raíz de confianza", "Mac", "Confiar siempre"},
	}
	h := Trust([]byte("ca"), "https://bench-pc")
	for lang := range words {
		body := get(t, h, trustPath+"?lang="+lang, "").Body.String()
		for _, part := range must[lang] {
			if !strings.Contains(body, part) {
				t.Errorf("%s: %s is missing", lang, part)
			}
		}
		if len(must[lang]) == 0 || strings.Count(body, "<details>") < 4 {
			t.Errorf("%s: %s", lang, body)
		}
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
