package web

import (
	"bufio"
	"bytes"
	"encoding/base64"
	"encoding/json"
	"errors"
	"io"
	"net/http"

	"github.com/danielgtaylor/huma/v2"
	"github.com/labstack/echo/v4"

	"jointwalk/sync/exchange"
	"jointwalk/sync/journal"
)

const (
	largestFile = 512 << 20
	longestRow  = largestPicture/3*4 + 1024 // a picture as base64, with its frame
)

// HandedIn is what became of a file of what a phone had not sent.
type HandedIn struct {
	Applied   int `json:"applied"`
	Duplicate int `json:"duplicate"`
	Aside     int `json:"aside"`
	Pictures  int `json:"pictures"`
}

// exportHead is the first line of such a file.
type exportHead struct {
	Jointwalk string `json:"jointwalk"`
	V         int    `json:"v"`
}

// exportPicture is a picture in such a file.
type exportPicture struct {
	Picture string `json:"picture"`
	Data    string `json:"data"`
}

func (s *Server) importRoutes() {
	s.documented(huma.Operation{OperationID: "import", Method: http.MethodPost, Path: "/api/import", Summary: "Hand in a file that a phone made of what it had not sent; the same again does nothing",
		RequestBody: bodyOf(ndjson), Responses: answerOf("200", "application/json", "what became of it")}, s.handIn)
}

// handIn reads the file line by line and takes it in batch by batch. What was taken before an error stays.
func (s *Server) handIn(c echo.Context) error {
	done, err := s.imports.take(c.Request().Context(), s.times.turn)
	if err != nil {
		return err
	}
	defer done()
	patience(c, s.times.file)
	rows := bufio.NewScanner(http.MaxBytesReader(c.Response(), c.Request().Body, largestFile))
	rows.Buffer(make([]byte, 0, 64<<10), longestRow)
	in := &handing{server: s, sender: senderOf(c)}
	for n := 0; rows.Scan(); n++ {
		if err := in.row(n, rows.Bytes()); err != nil {
			return s.problem(err)
		}
	}
	if p := overLimit(rows.Err()); p != nil {
		return p
	}
	if err := rows.Err(); err != nil {
		return notThatFile(err)
	}
	if !in.begun {
		return notThatFile(nil)
	}
	if err := in.flush(); err != nil {
		return s.problem(err)
	}
	return c.JSON(http.StatusOK, in.told)
}

func notThatFile(cause error) error {
	p := refuse(http.StatusUnprocessableEntity, "not-an-export", "this is not a whole file of unsent records from a phone")
	p.cause = cause
	return p
}

// handing is a file on its way in.
type handing struct {
	server *Server
	sender exchange.Sender
	begun  bool
	batch  []journal.Line
	size   int
	told   HandedIn
}

func (h *handing) row(n int, row []byte) error {
	var head exportHead
	var picture exportPicture
	switch {
	case n == 0:
		if json.Unmarshal(row, &head) != nil || head.Jointwalk != "unsent" || head.V != 1 {
			return notThatFile(nil)
		}
		h.begun = true
		return nil
	case bytes.HasPrefix(row, []byte(`{"picture":`)):
		if json.Unmarshal(row, &picture) != nil {
			return notThatFile(nil)
		}
		return h.picture(picture)
	case len(row) == 0:
		return nil
	}
	if h.size += len(row); len(h.batch) == exchange.MaxBatch || h.size > exchange.MaxBatchBytes {
		if err := h.flush(); err != nil {
			return err
		}
		h.size = len(row)
	}
	h.batch = append(h.batch, bytes.Clone(row))
	return nil
}

func (h *handing) picture(p exportPicture) error {
	body := base64.NewDecoder(base64.StdEncoding, bytes.NewReader([]byte(p.Data)))
	content, err := io.ReadAll(body)
	if err != nil || pictureKind(content[:min(12, len(content))]) == "" {
		return notThatFile(errors.Join(errors.New("a picture cannot be read"), err))
	}
	err = h.server.parts.Pictures.Put(p.Picture, bytes.NewReader(content))
	if wasWithdrawn(err) {
		return nil // nobody wants it any more
	}
	if err != nil {
		return err
	}
	h.told.Pictures++
	return nil
}

// flush takes the batch in.
func (h *handing) flush() error {
	answer, err := h.server.hall.Push(h.batch, h.sender)
	if err != nil {
		return err
	}
	for _, v := range answer.Answers {
		switch v.Is {
		case exchange.Applied:
			h.told.Applied++
		case exchange.Duplicate:
			h.told.Duplicate++
		default:
			h.told.Aside++
		}
	}
	h.batch, h.size = nil, 0
	return nil
}
