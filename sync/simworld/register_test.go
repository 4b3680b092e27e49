package simworld

import (
	"maps"
	"slices"

	"jointwalk/sync/exchange"
)

// register is who is who at the server: persons, their devices and sessions, who wrote which log. It is restored
// from a backup with everything else.
type register struct {
	devices  map[string]device   // by id
	sessions map[string]string   // token → device
	grants   map[string][]string // person → sites
	logs     map[string]writer   // log → who wrote it
	keeper   func() exchange.Keeper
}

type device struct {
	person  string
	revoked bool
}

type writer struct {
	device string
	told   uint64
}

func newRegister(keeper func() exchange.Keeper) *register {
	return &register{devices: map[string]device{}, sessions: map[string]string{}, grants: map[string][]string{}, logs: map[string]writer{}, keeper: keeper}
}

// copy is what a backup holds.
func (r *register) copy() *register {
	return &register{devices: maps.Clone(r.devices), sessions: maps.Clone(r.sessions), grants: maps.Clone(r.grants), logs: maps.Clone(r.logs), keeper: r.keeper}
}

// pair gives a person a device and a session.
func (r *register) pair(person, id, token string) {
	r.devices[id] = device{person: person}
	r.sessions[token] = id
}

// Meet implements exchange.Register.
func (r *register) Meet(id, log string, seq uint64, earlier []string) (met exchange.Met, err error) {
	known, told := r.logs[log]
	if told && known.device != id {
		return exchange.Met{Foreign: true}, nil
	}
	for _, before := range earlier {
		if _, told := r.logs[before]; !told {
			r.logs[before] = writer{device: id}
			met.Fresh = append(met.Fresh, before)
		}
	}
	r.logs[log] = writer{id, max(known.told, seq)}
	if !told {
		met.Fresh = append(met.Fresh, log)
	}
	for _, other := range slices.Sorted(maps.Keys(r.logs)) {
		if w := r.logs[other]; w.device == id && other != log && !slices.Contains(earlier, other) {
			if met.Lost, err = r.lost(other, w.told); met.Lost != nil || err != nil {
				return met, err
			}
		}
	}
	return met, nil
}

func (r *register) lost(log string, told uint64) (*exchange.Lost, error) {
	upto, err := r.keeper().Upto(log)
	if err != nil || upto >= told {
		return nil, err
	}
	return &exchange.Lost{Log: log, Told: told, Upto: upto}, nil
}

// Writer implements exchange.Register.
func (r *register) Writer(log string) (string, bool, error) {
	w, known := r.logs[log]
	return w.device, known, nil
}

// Enrolled implements exchange.Register.
func (r *register) Enrolled(id string) ([]string, error) {
	return []string{r.devices[id].person}, nil
}

// At implements exchange.Register.
func (r *register) At(person, site string) (bool, error) {
	return slices.Contains(r.grants[person], site), nil
}

var _ exchange.Register = (*register)(nil)
