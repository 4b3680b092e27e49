package journal

// Report says what a start found in the pool.
type Report struct {
	First bool         // all files were fresh
	Lost  []string     // names of files that were missing and had to be made again
	Free  int          // trusted files that no stream has claimed
	Bad   int          // stretches in all files that could not be read
	Files []FileReport // those that hold something
}

// FileReport says what one file holds. Stream is "own", "state", "pictures", "site:<id>" or "" when
// nothing could be made of it: such a file is left alone.
type FileReport struct {
	Name   string
	Stream string
	Size   int64
	Active bool   // false for an older file of a stream: kept, not written
	Damage Damage // of active files; the own log's stands with its newest file
}

// Report says what was found at the start, with the sizes of now.
func (p *Pool) Report() Report {
	r := Report{First: p.first}
	for _, s := range p.slots {
		switch {
		case s.fresh && !p.first:
			r.Lost = append(r.Lost, s.name)
		case s.free():
			r.Free++
		default:
			f := FileReport{Name: s.name, Stream: s.header.Stream, Size: s.tape.end, Active: s.active}
			if s.active {
				f.Damage = p.damageOf(s.header.Stream)
			}
			r.Bad += f.Damage.Bad
			r.Files = append(r.Files, f)
		}
	}
	return r
}

func (p *Pool) damageOf(stream string) Damage {
	switch stream {
	case streamOwn:
		return p.log.damage
	case streamState:
		return p.state.damage
	case streamPictures:
		return p.pictures.damage
	}
	if f := p.feeds[siteOf(stream)]; f != nil {
		return f.damage
	}
	return Damage{}
}
