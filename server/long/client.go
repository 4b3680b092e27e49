package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net/http"
	"net/http/cookiejar"
	"net/url"
	"strings"
	"time"

	"jointwalk/sync/exchange"
	"jointwalk/sync/journal"
)

// client is one device: its session, and how it asks.
type client struct {
	base string
	http *http.Client
}

// errNoAnswer wraps what is no answer of the server: it was killed, or is not there yet.
var errNoAnswer = errors.New("no answer")

func newClient(base string) (*client, error) {
	jar, err := cookiejar.New(nil)
	return &client{base, &http.Client{Jar: jar, Timeout: 20 * time.Second, Transport: &http.Transport{}}}, err
}

// ask makes a request and gives the whole body of a good answer. What came in only half is no answer.
func (c *client) ask(method, path, kind string, body []byte) ([]byte, error) {
	request, err := http.NewRequest(method, c.base+path, bytes.NewReader(body))
	if err != nil {
		return nil, err
	}
	request.Header.Set("X-Jointwalk", "1")
	request.Header.Set("Origin", c.base)
	request.Header.Set("Content-Type", kind)
	answer, err := c.http.Do(request)
	if err != nil {
		return nil, errors.Join(errNoAnswer, err)
	}
	told, err := io.ReadAll(answer.Body)
	if err = errors.Join(err, answer.Body.Close()); err != nil {
		return nil, errors.Join(errNoAnswer, err)
	}
	if answer.StatusCode/100 != 2 {
		return nil, fmt.Errorf("%s %s: status %d: %s", method, path, answer.StatusCode, told)
	}
	return told, nil
}

// tell posts JSON and reads JSON.
func (c *client) tell(path string, body, into any) error {
	raw, err := json.Marshal(body)
	if err != nil {
		return err
	}
	told, err := c.ask(http.MethodPost, path, "application/json", raw)
	if err != nil {
		return err
	}
	return json.Unmarshal(told, into)
}

// meet tells the server of a log, so that it knows which device writes it.
func (c *client) meet(log string) error {
	g := exchange.Greeting{Speaks: exchange.Speaks, Log: log, Clock: time.Now().UTC().Format(journal.TimeLayout)}
	return c.tell(exchange.PathMeet, g, &exchange.Welcome{})
}

// push hands lines in and gives the server's word about each.
func (c *client) push(lines []journal.Line) (exchange.Answer, error) {
	body := exchange.Batch{Lines: lines}.Body()
	told, err := c.ask(http.MethodPost, "/api/push", "application/x-ndjson", body)
	if err != nil {
		return exchange.Answer{}, err
	}
	var answer exchange.Answer
	if err := json.Unmarshal(told, &answer); err != nil {
		return answer, err
	}
	if len(answer.Answers) != len(lines) {
		return answer, fmt.Errorf("%d answers to %d events", len(answer.Answers), len(lines))
	}
	return answer, nil
}

// pullAll gives a site's whole feed, slice by slice from its beginning. Its numbers must be dense.
func (c *client) pullAll(site string) ([]journal.Pair, error) {
	var all []journal.Pair
	for cursor, more := "", true; more; {
		told, err := c.ask(http.MethodGet, "/api/pull?all=1&site="+url.QueryEscape(site)+"&cursor="+url.QueryEscape(cursor), "", nil)
		if err != nil {
			return nil, err
		}
		lines := strings.Split(strings.TrimSuffix(string(told), "\n"), "\n")
		var end struct {
			Cursor string
			More   bool
		}
		if err := json.Unmarshal([]byte(lines[len(lines)-1]), &end); err != nil {
			return nil, err
		}
		for i := 0; i+1 < len(lines); i += 2 {
			receipt, err := journal.ParseReceipt([]byte(lines[i+1]))
			if err != nil {
				return nil, err
			}
			if receipt.N != uint64(len(all))+1 {
				return nil, fmt.Errorf("after n %d of the feed comes n %d", len(all), receipt.N)
			}
			all = append(all, journal.Pair{Line: journal.Line(lines[i]), Receipt: receipt})
		}
		cursor, more = end.Cursor, end.More
	}
	return all, nil
}
