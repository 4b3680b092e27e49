// Package pwa holds the built app, for the server to serve.
package pwa

import (
	"embed"
	"io/fs"
)

//go:embed all:dist
var built embed.FS

// App is the built app: index.html, sw.js, hashed assets, each with .br and
// .gz beside it where that pays. Before the front end was built it is empty
// but for a hidden file.
func App() fs.FS {
	app, err := fs.Sub(built, "dist")
	if err != nil {
		panic("pwa: " + err.Error())
	}
	return app
}
