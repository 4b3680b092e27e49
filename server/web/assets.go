package web

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"net/http"
	"path"
	"strconv"
	"strings"
)

// asset is one file of the app with its compressed forms.
type asset struct {
	kind     string
	lasting  bool // its name changes with its content
	variants []variant
}

type variant struct {
	coding string // "br", "gzip" or "" for the file itself
	etag   string
	body   []byte
}

// kinds are the content types by extension; a file of another kind is an error when the app is read, so
// that none is served as something else.
var kinds = map[string]string{
	".html": "text/html; charset=utf-8", ".js": "text/javascript; charset=utf-8", ".mjs": "text/javascript; charset=utf-8",
	".css": "text/css; charset=utf-8", ".wasm": "application/wasm", ".json": "application/json", ".map": "application/json",
	".webmanifest": "application/manifest+json", ".svg": "image/svg+xml; charset=utf-8", ".png": "image/png", ".webp": "image/webp",
	".ico": "image/x-icon", ".txt": "text/plain; charset=utf-8", ".woff2": "font/woff2", ".mp3": "audio/mpeg", ".wav": "audio/wav",
}

// assets serves the app: its files, and index.html for each address that names no file.
type assets map[string]*asset

// readAssets takes the built app into memory. X.br and X.gz are the compressed forms of X.
func readAssets(app fs.FS) (assets, error) {
	all := assets{}
	err := fs.WalkDir(app, ".", func(name string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() || strings.HasPrefix(path.Base(name), ".") || compressed(name) {
			return err
		}
		kind, known := kinds[path.Ext(name)]
		if !known {
			return fmt.Errorf("web: no content type for %s", name)
		}
		a := &asset{kind: kind, lasting: strings.HasPrefix(name, "assets/")}
		all["/"+name] = a
		return a.read(app, name)
	})
	return all, err
}

func compressed(name string) bool {
	ext := path.Ext(name)
	return ext == ".br" || ext == ".gz"
}

func (a *asset) read(app fs.FS, name string) error {
	for _, v := range [][2]string{{"br", ".br"}, {"gzip", ".gz"}, {"", ""}} {
		body, err := fs.ReadFile(app, name+v[1])
		if errors.Is(err, fs.ErrNotExist) {
			continue
		}
		if err != nil {
			return err
		}
		sum := sha256.Sum256(body)
		a.variants = append(a.variants, variant{v[0], `"` + hex.EncodeToString(sum[:12]) + `"`, body})
	}
	return nil
}

func (all assets) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	a := all.find(r.URL.Path)
	if a == nil {
		if all["/index.html"] == nil {
			http.Error(w, "The app has not been built into this server: run make run.", http.StatusServiceUnavailable)
			return
		}
		http.Error(w, "There is nothing at this address.", http.StatusNotFound)
		return
	}
	a.serve(w, r)
}

// find gives the file, or index.html for a path without an extension: the app knows its own addresses.
func (all assets) find(name string) *asset {
	if a := all[name]; a != nil {
		return a
	}
	if path.Ext(name) != "" {
		return nil
	}
	return all["/index.html"]
}

func (a *asset) serve(w http.ResponseWriter, r *http.Request) {
	v := a.choose(r.Header.Get("Accept-Encoding"))
	h := w.Header()
	h.Set("Content-Type", a.kind)
	h.Set("ETag", v.etag)
	if len(a.variants) > 1 {
		h.Set("Vary", "Accept-Encoding")
	}
	if a.lasting {
		h.Set("Cache-Control", "public, max-age=31536000, immutable")
	} else {
		h.Set("Cache-Control", "no-cache")
	}
	if known(r.Header.Get("If-None-Match"), v.etag) {
		w.WriteHeader(http.StatusNotModified)
		return
	}
	if v.coding != "" {
		h.Set("Content-Encoding", v.coding)
	}
	h.Set("Content-Length", strconv.Itoa(len(v.body)))
	if r.Method != http.MethodHead {
		_, _ = w.Write(v.body) // the reader has gone: nobody is left to tell
	}
}

// choose takes the first form, of br, gzip and plain, that the browser takes.
func (a *asset) choose(accept string) variant {
	for _, v := range a.variants {
		if v.coding == "" || takes(accept, v.coding) {
			return v
		}
	}
	return a.variants[len(a.variants)-1]
}

// takes reads an Accept-Encoding header: a coding that is named counts unless its weight is zero.
func takes(accept, coding string) bool {
	for part := range strings.SplitSeq(accept, ",") {
		name, weight, _ := strings.Cut(strings.ReplaceAll(part, " ", ""), ";")
		if strings.EqualFold(name, coding) {
			q, err := strconv.ParseFloat(strings.TrimPrefix(weight, "q="), 64)
			return weight == "" || err == nil && q > 0
		}
	}
	return false
}

// known tells whether an If-None-Match header names the tag.
func known(header, etag string) bool {
	for part := range strings.SplitSeq(header, ",") {
		if tag := strings.TrimPrefix(strings.TrimSpace(part), "W/"); tag == etag || tag == "*" {
			return true
		}
	}
	return false
}
