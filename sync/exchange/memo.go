package exchange

// memo asks a Register once for what a batch needs again and again.
type memo struct {
	Register
	writers map[string]writer
	people  map[string][]string
	places  map[[2]string]bool
}

type writer struct {
	device string
	known  bool
}

func newMemo(r Register) *memo {
	return &memo{Register: r, writers: map[string]writer{}, people: map[string][]string{}, places: map[[2]string]bool{}}
}

func (m *memo) Writer(log string) (string, bool, error) {
	if w, asked := m.writers[log]; asked {
		return w.device, w.known, nil
	}
	device, known, err := m.Register.Writer(log)
	if err == nil {
		m.writers[log] = writer{device, known}
	}
	return device, known, err
}

func (m *memo) Enrolled(device string) ([]string, error) {
	if people, asked := m.people[device]; asked {
		return people, nil
	}
	people, err := m.Register.Enrolled(device)
	if err == nil {
		m.people[device] = people
	}
	return people, err
}

func (m *memo) At(person, site string) (bool, error) {
	key := [2]string{person, site}
	if at, asked := m.places[key]; asked {
		return at, nil
	}
	at, err := m.Register.At(person, site)
	if err == nil {
		m.places[key] = at
	}
	return at, err
}
