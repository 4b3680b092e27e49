package cert

import (
	"bytes"
	_ "embed"
	"html/template"
	"net/http"
	"strconv"
	"strings"
)

const (
	trustPath = "/trust"
	crtPath   = "/trust/jointwalk.crt"
	trustCSP  = "default-src 'none'; style-src 'self'; object-src 'none'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
)

//go:embed trust.html
var trustHTML string

//go:embed trust.css
var trustCSS []byte

var trustTemplate = template.Must(template.New("trust").Parse(trustHTML))

// Trust is the handler of the plain http port: the page /trust in English and Spanish, its style sheet
// and the authority's certificate, and nothing else. App is the https address of the app, shown as the
// last step.
func Trust(authority []byte, app string) http.Handler {
	print := Fingerprint(authority)
	mux := http.NewServeMux()
	mux.HandleFunc("GET "+trustPath, func(w http.ResponseWriter, r *http.Request) {
		servePage(w, r, print, app)
	})
	mux.HandleFunc("GET "+trustPath+".css", func(w http.ResponseWriter, _ *http.Request) {
		send(w, "text/css; charset=utf-8", trustCSS)
	})
	mux.HandleFunc("GET "+crtPath, func(w http.ResponseWriter, _ *http.Request) {
		w.Header().Set("Content-Disposition", `attachment; filename="jointwalk.crt"`)
		send(w, "application/x-x509-ca-cert", authority)
	})
	mux.HandleFunc("/", func(w http.ResponseWriter, _ *http.Request) {
		http.Error(w, "Only "+trustPath+" is served here.", http.StatusNotFound)
	})
	return plainHeaders(mux)
}

func plainHeaders(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("Content-Security-Policy", trustCSP)
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("Referrer-Policy", "no-referrer")
		h.Set("Permissions-Policy", "camera=(), microphone=(), geolocation=()")
		h.Set("Cache-Control", "no-store")
		next.ServeHTTP(w, r)
	})
}

func servePage(w http.ResponseWriter, r *http.Request, print, app string) {
	lang := language(r)
	var page bytes.Buffer
	err := trustTemplate.Execute(&page, map[string]any{
		"Lang": lang, "Words": words[lang], "Other": words[lang].other, "Print": groups(print), "App": app, "Crt": crtPath,
	})
	if err != nil {
		http.Error(w, "the page could not be made", http.StatusInternalServerError)
		return
	}
	w.Header().Set("Content-Language", lang)
	w.Header().Set("Vary", "Accept-Language")
	send(w, "text/html; charset=utf-8", page.Bytes())
}

func send(w http.ResponseWriter, kind string, body []byte) {
	w.Header().Set("Content-Type", kind)
	w.Header().Set("Content-Length", strconv.Itoa(len(body)))
	_, _ = w.Write(body) // the reader has gone: nobody is left to tell
}

// language is what ?lang= says, else the first of the browser's languages that we have.
func language(r *http.Request) string {
	if asked := r.URL.Query().Get("lang"); words[asked] != nil {
		return asked
	}
	for part := range strings.SplitSeq(r.Header.Get("Accept-Language"), ",") {
		tag, _, _ := strings.Cut(strings.TrimSpace(part), ";")
		if primary, _, _ := strings.Cut(strings.ToLower(tag), "-"); words[primary] != nil {
			return primary
		}
	}
	return "en"
}

// groups cuts a fingerprint into four lines of eight pairs, to be compared by eye.
func groups(print string) []string {
	pairs := strings.Split(print, ":")
	var lines []string
	for len(pairs) > 8 {
		lines, pairs = append(lines, strings.Join(pairs[:8], ":")), pairs[8:]
	}
	return append(lines, strings.Join(pairs, ":"))
}
