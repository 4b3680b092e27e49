package web

import (
	"bufio"
	"bytes"
	"errors"
	"io"
	"net/http"
	"strconv"
	"strings"
	"time"

	"github.com/danielgtaylor/huma/v2"
	"github.com/labstack/echo/v4"
)

const (
	largestPicture = 15 << 20
	pictureTime    = 10 * time.Minute
)

func (s *Server) pictureRoutes() {
	hash := &huma.Param{Name: "hash", In: "path", Required: true, Schema: &huma.Schema{Type: huma.TypeString, Pattern: "^[0-9a-f]{64}$", MaxLength: new(64)}}
	add := func(id, method, about string, answers map[string]*huma.Response, handle echo.HandlerFunc) {
		op := huma.Operation{OperationID: id, Method: method, Path: "/api/pictures/{hash}", Summary: about, Parameters: []*huma.Param{hash}, Responses: answers}
		if method == http.MethodPut {
			op.RequestBody = &huma.RequestBody{Required: true, Content: map[string]*huma.MediaType{"image/jpeg": {}, "image/png": {}, "image/webp": {}}}
		}
		s.documented(op, handle)
	}
	add("put-picture", http.MethodPut, "Hand in a picture under its SHA-256", answerOf("204", "", "kept"), s.putPicture)
	add("has-picture", http.MethodHead, "Whether a picture is here, and its size", answerOf("200", "", "here"), s.getPicture)
	add("picture", http.MethodGet, "A picture", answerOf("200", "image/*", "its bytes"), s.getPicture)
}

// putPicture keeps a picture. Its bytes must be what the header says, and have the hash it comes under.
func (s *Server) putPicture(c echo.Context) error {
	hash, err := hashOf(c)
	if err != nil {
		return err
	}
	patience(c, pictureTime)
	body := bufio.NewReader(http.MaxBytesReader(c.Response(), c.Request().Body, largestPicture))
	head, err := body.Peek(12)
	if err != nil && !errors.Is(err, io.EOF) {
		return unread(err)
	}
	kind := pictureKind(head)
	if said, _, _ := strings.Cut(c.Request().Header.Get(echo.HeaderContentType), ";"); kind == "" || said != kind {
		return refuse(http.StatusUnsupportedMediaType, "not-a-picture", "a picture is JPEG, PNG or WebP, and its bytes must be what its type says")
	}
	if err := s.parts.Pictures.Put(hash, body); err != nil {
		return s.problem(err)
	}
	return c.NoContent(http.StatusNoContent)
}

// getPicture gives a picture, as an image or to be saved, and never as a page.
func (s *Server) getPicture(c echo.Context) error {
	hash, err := hashOf(c)
	if err != nil {
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
	h := c.Response().Header()
	h.Set(echo.HeaderContentLength, strconv.FormatInt(size, 10))
	h.Set(echo.HeaderContentDisposition, `attachment; filename="`+hash[:12]+strings.Replace(kind, "image/", ".", 1)+`"`)
	h.Set("Cache-Control", "private, max-age=31536000, immutable")
	if c.Request().Method == http.MethodHead {
		h.Set(echo.HeaderContentType, kind)
		return c.NoContent(http.StatusOK)
	}
	return c.Stream(http.StatusOK, kind, io.MultiReader(bytes.NewReader(head[:n]), body))
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
