package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"path/filepath"
	"time"
	_ "time/tzdata" // sites have time zones, and a small machine has no table of them

	"jointwalk/pwa"
	"jointwalk/server/album"
	"jointwalk/server/cert"
	"jointwalk/server/copies"
	"jointwalk/server/example"
	"jointwalk/server/people"
	"jointwalk/server/store"
	"jointwalk/server/store/bolt"
	"jointwalk/server/store/files"
	"jointwalk/server/web"
	"jointwalk/sync/exchange"
	"jointwalk/sync/journal"
)

// house is what stands behind the web: the stores in the data folder, and people.
type house struct {
	options options
	store   *bolt.Store
	blobs   *files.Blobs
	people  *people.Gate
	copies  *copies.Keeper
	album   *album.Album
	source  cert.Source // of the certificate; nil for plain http
	now     func() time.Time
	random  io.Reader
	log     *slog.Logger
}

func openHouse(o options, now func() time.Time, random io.Reader, log *slog.Logger) (*house, error) {
	kept, err := bolt.Open(filepath.Join(o.data, copies.StoreFile), random) // first: it holds the lock on the folder
	if err != nil {
		return nil, storeWords(err, o.data)
	}
	blobs, err := files.Open(filepath.Join(o.data, copies.BlobsFolder), now())
	if err != nil {
		return nil, errors.Join(storeWords(err, o.data), kept.Close())
	}
	gate, err := people.New(kept, now, random)
	if err != nil {
		return nil, errors.Join(storeWords(err, o.data), kept.Close())
	}
	keeper := &copies.Keeper{Source: source(o.data, kept.Copy, random), Folder: o.copies, Now: now, Log: log}
	h := &house{options: o, store: kept, blobs: blobs, people: gate, copies: keeper, now: now, random: random, log: log}
	h.album = album.New(kept, blobs, h.siteIDs, h.notDropped)
	return h, nil
}

// siteIDs are the ids of all sites.
func (h *house) siteIDs() ([]string, error) {
	all, err := h.people.Sites()
	return each(all, func(s people.Site) string { return s.ID }), err
}

func (h *house) notDropped(err error) {
	h.log.Error("a picture that was withdrawn could not be dropped; it is refused and tried again", "cause", err)
}

func (h *house) close() error { return h.store.Close() }

// setupLink is the link that makes the first person, "" when there is somebody.
func (h *house) setupLink() string {
	code := h.people.SetupCode()
	if code == "" {
		return ""
	}
	return h.options.public + "/setup#" + code
}

func (h *house) parts() web.Parts {
	return web.Parts{
		Version: built, Public: h.options.public, Names: machineNames(), Trust: h.options.trustURL(), HTTPS: h.options.secure(), App: pwa.App(),
		Gate: gate{h.people, h.store.Upto}, Events: events{h.album.Events()}, Pictures: pictures{h.album.Blobs()}, Album: h.album, Watch: watch{h.store}, Paper: printer{},
		Seal: seal(h.people.ReceiptKey()), Example: h.example, Copied: h.copied, Connection: h.connection, Now: h.now, Log: h.log,
	}
}

// machineNames are those by which this machine is reached; a machine that does not tell has localhost and --url.
func machineNames() []string {
	hosts, err := cert.Machine("")
	if err != nil {
		return nil
	}
	return hosts.Names
}

// copied is when the newest nightly copy was made, zero when there is none.
func (h *house) copied() time.Time {
	made, err := h.copies.Newest()
	if err != nil {
		return time.Time{}
	}
	return made
}

// built is the revision that was built, set by the linker.
var built = "unknown"

// example adds the invented site, its two people and its year, as if a phone had handed it in.
func (h *house) example(_ context.Context, visit web.Visit) error {
	by := visit.Person.ID
	site, err := h.people.AddSite(by, people.Site{Name: example.SiteName, Place: example.SitePlace, Zone: "UTC"})
	if err != nil {
		return err
	}
	technician, err := h.people.AddPerson(by, example.Technician, people.Grants{site.ID: {people.Technician}})
	if err != nil {
		return err
	}
	engineer, err := h.people.AddPerson(by, example.Engineer, people.Grants{site.ID: {people.Engineer}})
	if err != nil {
		return err
	}
	lines, err := example.Lines(example.Scene{Installation: h.people.Installation(), Site: site.ID, Technician: technician.ID, Engineer: engineer.ID,
		Now: h.now(), Random: h.random})
	if err != nil {
		return err
	}
	answer, err := h.exampleHall().Push(lines, exchange.Sender{Device: visit.Device.ID})
	if err != nil {
		return err
	}
	for _, v := range answer.Answers {
		if v.Is != exchange.Applied {
			return fmt.Errorf("event %d of the example was not applied: %s", v.Seq, v.Code)
		}
	}
	return nil
}

// exampleHall takes in what the example wrote: its people have no devices.
func (h *house) exampleHall() *exchange.Hall {
	return &exchange.Hall{Keeper: h.store, Feed: h.store, Now: h.now, Seal: seal(h.people.ReceiptKey()),
		Judge: func(journal.Event) (exchange.Judgement, error) { return exchange.Judgement{}, nil }}
}

// storeWords says what keeps the stores from opening, and what to do.
func storeWords(err error, data string) error {
	words := map[string]string{
		store.CodeLocked:  "another jointwalk uses the data folder %s; stop that one, or choose another folder with --data",
		store.CodeDamaged: "the store in %s is damaged and was left as it is; restore a backup of the folder, or start anew with another --data",
		store.CodeDenied:  "the store in %s may not be written by this user; give it the right to",
		store.CodeNewer:   "the store in %s was written by a later version of jointwalk; start that one",
		store.CodeFull:    "the disk that holds %s is full; make room and start again",
	}[store.CodeOf(err)]
	if words == "" {
		return fmt.Errorf("the store in %s cannot be opened: %w", data, err)
	}
	return fmt.Errorf(words+" (%w)", data, err)
}
