package journal

// openState believes the newest state file whose snapshot was finished, and empties the others. When
// none was finished (its end mark was damaged) the newest is taken as it is.
func (p *Pool) openState() error {
	files := p.of(streamState)
	var chosen *slot
	for i := len(files) - 1; i >= 0; i-- {
		s, whole := openState(files[i].tape, files[i].data)
		if chosen == nil && (whole || i == 0) {
			chosen, p.state = files[i], s
			break
		}
	}
	for _, s := range files {
		if s != chosen {
			_ = p.release(s) // nothing in it counts; a failure is tried again before the next write
		}
	}
	if chosen == nil {
		s, err := p.claim(streamState, frame(nil, []byte(stateWhole)), 0, CodeNoTrustedFile)
		if err != nil {
			return err
		}
		chosen = s
		p.state, _ = openState(s.tape, nil)
	}
	chosen.active = true
	if torn := p.state.damage.Torn; torn > 0 {
		_ = chosen.tape.cut(chosen.tape.end - int64(torn))
	}
	p.state.compact = p.compact(chosen)
	return nil
}

// compact moves the state to a spare file; after the snapshot is flushed the old file is given back.
func (p *Pool) compact(old *slot) func([]byte) (*tape, error) {
	return func(snapshot []byte) (*tape, error) {
		s, err := p.claim(streamState, snapshot, 0, CodeNoRoomForSite)
		if err != nil {
			return nil, err
		}
		_ = p.release(old) // the newer snapshot counts, whatever becomes of the cut
		p.state.compact = p.compact(s)
		return s.tape, nil
	}
}

// openFeeds opens the newest file of each site. An older one was missing at an earlier start and found again.
func (p *Pool) openFeeds() error {
	for _, s := range p.slots {
		site := siteOf(s.header.Stream)
		if site == "" || !s.trusted || p.feeds[site] != nil {
			continue
		}
		files := p.of(s.header.Stream)
		last := len(files) - 1
		newest := files[last]
		newest.active = true
		f := openFeed(newest.tape, newest.data, newest.header.Mark, p.log)
		p.feeds[site] = f
		for _, older := range files[:last] {
			if f.merge(openFeed(older.tape, older.data, "", p.log), p.noteMerge) {
				_ = p.release(older) // a failure: the next start finds it again
			}
		}
	}
	return nil
}

// KeyMerged is set in the state when events came into a feed out of an older file that was found again. The server may have
// been restored while it was away, so that it has to be asked whether it lacks them; whoever did so drops the key.
const KeyMerged = "merged"

func (p *Pool) noteMerge() error {
	if _, noted := p.state.Get(KeyMerged); noted {
		return nil
	}
	return p.state.Set(KeyMerged, true)
}

// openPictures opens the pictures files, if there are any; the first is claimed by the first picture.
func (p *Pool) openPictures() error {
	p.pictures = &Pictures{state: p.state, release: p.release, limit: pictureFile}
	p.pictures.claim = func() (*slot, error) { return p.claim(streamPictures, nil, spareForState, CodeNoRoomForSite) }
	for _, s := range p.of(streamPictures) {
		p.pictures.open(s)
	}
	if newest := p.pictures.newest(); newest != nil {
		newest.active = true
	}
	return nil
}

const (
	spareForState    = 1 // a file is kept free for the state's next snapshot
	spareForPictures = 1 // and one for pictures, until they have theirs
)

// spares is how many free files are kept from feeds and the own log.
func (p *Pool) spares() int {
	if p.pictures == nil || len(p.pictures.files) == 0 {
		return spareForState + spareForPictures
	}
	return spareForState
}

// Site is the feed of a site; a file is claimed for it when there is none.
// Errors: CodeNoRoomForSite and those of a write.
func (p *Pool) Site(id string) (*Feed, error) {
	if f := p.feeds[id]; f != nil {
		return f, nil
	}
	if !isToken(id) {
		return nil, fault(CodeBadLine, "site")
	}
	s, err := p.claim(sitePrefix+id, nil, p.spares(), CodeNoRoomForSite)
	if err != nil {
		return nil, err
	}
	f := openFeed(s.tape, nil, s.header.Mark, p.log)
	p.feeds[id] = f
	return f, nil
}

// Sites are the ids of the sites that have a feed, sorted.
func (p *Pool) Sites() []string {
	var ids []string
	for id := range p.feeds {
		ids = sortIn(ids, id)
	}
	return ids
}

// DropSite gives a site's files back: its feed is gone and must not be used again. No feed is no
// error. After an error of a write the feed is gone for now, but the next start may find it again.
func (p *Pool) DropSite(id string) error {
	delete(p.feeds, id)
	var failed error
	for _, s := range p.of(sitePrefix + id) {
		if err := p.release(s); err != nil {
			failed = err
		}
	}
	return failed
}
