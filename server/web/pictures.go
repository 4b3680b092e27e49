package web

import (
	"bufio"
	"bytes"
	"errors"
	"io"
	"net/http"
	"strconv"
	"strings"

	"github.com/danielgtaylor/huma/v2"
	"github.com/labstack/echo/v4"

	"jointwalk/sync/exchange"
)

const (
	largestPicture = 15 << 20
	largestChunk   = 256 << 10
)

func (s *Server) pictureRoutes() {
	hash := &huma.Param{Name: "hash", In: "path", Required: true, Schema: &huma.Schema{Type: huma.TypeString, Pattern: "^[0-9a-f]{64}$", MaxLength: new(64)}}
	add := func(id, method, path, about string, body *huma.RequestBody, answers map[string]*huma.Response, handle echo.HandlerFunc, more ...*huma.Param) {
		s.documented(huma.Operation{OperationID: id, Method: method, Path: path, Summary: about, Parameters: append([]*huma.Param{hash}, more...), RequestBody: body, Responses: answers}, handle)
	}
	chunk := &huma.RequestBody{Required: true, Content: map[string]*huma.MediaType{"application/octet-stream": {}}}
	part := answerOf("200", "application/json", "how much is here")
	add("picture-part", http.MethodGet, "/api/pictures/{hash}/part", "How much of a picture is here", nil, part, s.picturePart)
	add("extend-picture", http.MethodPatch, "/api/pictures/{hash}", "Hand in the next piece of a picture, at most 256 kB", chunk, part, s.extendPicture, query("offset", true), query("size", true))
	add("has-picture", http.MethodHead, "/api/pictures/{hash}", "Whether a picture is here, and its size", nil, answerOf("200", "", "here"), s.getPicture)
	add("picture", http.MethodGet, "/api/pictures/{hash}", "A picture", nil, answerOf("200", "image/*", "its bytes"), s.getPicture)
}

// picturePart tells how much of a picture is here.
func (s *Server) picturePart(c echo.Context) error {
	hash, err := hashOf(c)
	if err != nil {
		return err
	}
	have, whole, err := s.parts.Pictures.Part(hash)
	if err != nil {
		return s.problem(err)
	}
	return c.JSON(http.StatusOK, exchange.Part{Have: have, Whole: whole})
}

// extendPicture takes the next piece. The first one must begin as a picture does; the whole must have the hash it comes under.
func (s *Server) extendPicture(c echo.Context) error {
	hash, err := hashOf(c)
	if err != nil {
		return err
	}
	offset, bad := strconv.ParseInt(c.QueryParam("offset"), 10, 64)
	size, worse := strconv.ParseInt(c.QueryParam("size"), 10, 64)
	if bad != nil || worse != nil || offset < 0 || size < 1 {
		return refuse(http.StatusUnprocessableEntity, "bad-input", "offset and size are numbers of bytes")
	}
	if size > largestPicture {
		return refuse(http.StatusRequestEntityTooLarge, "too-large", "a picture has at most 15 MB")
	}
	patience(c, s.times.batch)
	body := bufio.NewReader(http.MaxBytesReader(c.Response(), c.Request().Body, largestChunk))
	if offset == 0 {
		head, err := body.Peek(12)
		if err != nil && !errors.Is(err, io.EOF) {
			return unread(err)
		}
		if pictureKind(head) == "" {
			return refuse(http.StatusUnsupportedMediaType, "not-a-picture", "a picture is JPEG, PNG or WebP")
		}
	}
	have, whole, err := s.parts.Pictures.Extend(hash, offset, size, body)
	if err != nil {
		return s.problem(err)
	}
	return c.JSON(http.StatusOK, exchange.Part{Have: have, Whole: whole})
}

// getPicture gives a picture, as an image or to be saved, and never as a page.
func (s *Server) getPicture(c echo.Context) error {
	hash, err := hashOf(c)
	if err != nil {
		return err
	}
	if err := s.shown(c, hash); err != nil {
		return err
	}
	size, err := s.parts.Pictures.Size(hash)
	if err != nil {
		return s.problem(err)
	}
	body, err := s.parts.Pictures.Get(hash)
	if err != nil {
		return s.problem(err)
	}
	defer body.Close() // read only: closing cannot lose anything
	head := make([]byte, 12)
	n, err := io.ReadFull(body, head)
	if err != nil && !errors.Is(err, io.ErrUnexpectedEOF) && !errors.Is(err, io.EOF) {
		return s.problem(err)
	}
	kind := pictureKind(head[:n])
	if kind == "" {
		kind = "application/octet-stream"
	}
	patience(c, s.times.file)
	h := c.Response().Header()
	h.Set(echo.HeaderContentLength, strconv.FormatInt(size, 10))
	h.Set(echo.HeaderContentDisposition, `attachment; filename="`+hash[:12]+strings.Replace(kind, "image/", ".", 1)+`"`)
	h.Set("Cache-Control", "no-store") // it may be withdrawn, and then no browser has a copy
	if c.Request().Method == http.MethodHead {
		h.Set(echo.HeaderContentType, kind)
		return c.NoContent(http.StatusOK)
	}
	return c.Stream(http.StatusOK, kind, io.MultiReader(bytes.NewReader(head[:n]), body))
}

// shown refuses a picture that was taken at none of the caller's sites, as if it were not here.
func (s *Server) shown(c echo.Context, hash string) error {
	sites, err := s.sitesOf(callerOf(c))
	if err != nil {
		return s.problem(err)
	}
	shows, err := s.books.shows(siteNames(sites), hash)
	if err != nil {
		return s.problem(err)
	}
	if !shows {
		return refuse(http.StatusNotFound, "unknown-picture", "")
	}
	return nil
}

func hashOf(c echo.Context) (string, error) {
	hash := c.Param("hash")
	if len(hash) != 64 || strings.Trim(hash, "0123456789abcdef") != "" {
		return "", refuse(http.StatusUnprocessableEntity, "bad-hash", "a picture's address is its SHA-256 in lower-case hexadecimal")
	}
	return hash, nil
}

// pictureKind reads the type off the first twelve bytes; "" for anything that is no picture of ours.
func pictureKind(head []byte) string {
	switch {
	case bytes.HasPrefix(head, []byte{0xff, 0xd8, 0xff}):
		return "image/jpeg"
	case bytes.HasPrefix(head, []byte("\x89PNG\r\n\x1a\n")):
		return "image/png"
	case len(head) >= 12 && string(head[:4]) == "RIFF" && string(head[8:12]) == "WEBP":
		return "image/webp"
	}
	return ""
}
