package example

import "jointwalk/sync/record"

// fixture is one fixture of the story. Incidents stand by month and joint; all
// other looks see nothing.
type fixture struct {
	name, place string
	program     record.Program
	conditions  record.Conditions
	joints      []record.Joint
	incidents   map[at]incident
}

// at is a month of the story, 0 the oldest, and a joint's index.
type at struct{ month, joint int }

// incident is a look that is not quiet, and what became of it.
type incident struct {
	look   record.Look
	mend   *record.Mend
	review *record.Review
}

func tube(mm float64) *record.Amount { return &record.Amount{Value: mm, Unit: "mm"} }

func joint(name, kind, circuit string, mm float64) record.Joint {
	j := record.Joint{Name: name, Kind: kind, Circuit: circuit}
	if mm > 0 {
		j.Tube = tube(mm)
	}
	return j
}

// bubbles is a leak: so many bubbles of a diameter in so many seconds.
func bubbles(count int, seconds, mm float64) record.Look {
	return record.Look{Result: record.Leaks, Seconds: seconds, Wiped: "came-back", Observation: &record.Observation{
		Medium: "film", How: "window", Count: count, Seconds: seconds,
		Size: record.Size{As: "diameter", Diameter: tube(mm)},
	}}
}

func mended(when, cause, action string) *record.Mend {
	return &record.Mend{When: when, Vented: true, Cause: cause, Action: action}
}

var fixtures = []fixture{valveBody, stoveRegulator, pilotValve}

var valveBody = fixture{
	name: "Irrigation valve body", place: "Station 1",
	program: record.Program{
		Name: "Body, both ports", Gas: "air", Pressure: record.Amount{Value: 200, Unit: "kPa"}, Volume: record.Amount{Value: 200, Unit: "cm3"},
		Fill: 5, Stabilise: 10, Test: 10, Vent: 3, LimitRate: &record.Rate{Value: 2, Unit: "std cm3/min", Ref: "0C"},
		ShowUnit: "std cm3/min", ShowRef: "0C", Allowance: 0.1,
	},
	conditions: record.Conditions{Gas: "air", Pressure: record.Amount{Value: 200, Unit: "kPa"}, Ambient: record.Amount{Value: 23, Unit: "degC"},
		Barometer: &record.Amount{Value: 1013, Unit: "mbar"}, Solution: "film", Wetted: "after", Setup: "master part in, clamp closed, dump valve closed"},
	joints: []record.Joint{
		joint("Instrument test port", "instrument-port", "test", 6),
		joint("Tube to manifold, upper nut", "compression", "test", 6),
		joint("Tube to manifold, lower nut", "compression", "test", 6),
		joint("Manifold plug, left", "manifold-plug", "test", 10),
		joint("Manifold plug, right", "manifold-plug", "test", 10),
		joint("Isolation valve, inlet", "valve-seat", "test", 8),
		joint("Isolation valve, stem", "valve-stem", "test", 8),
		joint("Bulkhead through the table", "bulkhead", "test", 8),
		joint("Hose to the fixture, barb", "hose-barb", "test", 8),
		joint("Quick coupling at the fixture", "quick-coupling", "test", 8),
		joint("Upper part seal", "part-seal", "test", 40),
		joint("Lower part seal", "part-seal", "test", 40),
		joint("Rear clamp rod", "rod-seal", "clamp", 12),
		joint("Supply filter bowl", "filter-bowl", "supply", 50),
	},
	incidents: map[at]incident{
		{1, 9}:   {look: bubbles(6, 30, 2), mend: mended("on-spot", "dirt", "cleaned")},
		{4, 2}:   {look: bubbles(12, 20, 3), mend: mended("on-spot", "loose", "tightened"), review: &record.Review{Verdict: "accept"}},
		{6, 12}:  {look: record.Look{Result: record.NotReached, Why: "guarded"}},
		{8, 11}:  {look: record.Look{Result: record.Gross, Note: "heard before wetting"}, mend: mended("on-spot", "seal-worn", "seal-replaced")},
		{10, 7}:  {look: record.Look{Result: record.Partly, Seconds: 60}},
		{11, 1}:  {look: bubbles(12, 20, 3), review: &record.Review{Verdict: "look-again", Note: "Same nut as in the summer; look at the ferrule."}},
		{11, 9}:  {look: bubbles(3, 60, 2.5), mend: mended("later", "seal-worn", "seal-replaced")},
		{11, 12}: {look: record.Look{Result: record.NotReached, Why: "guarded"}},
	},
}

var stoveRegulator = fixture{
	name: "Camp-stove regulator", place: "Station 2",
	program: record.Program{
		Name: "Outlet side", Gas: "air", Pressure: record.Amount{Value: 600, Unit: "mbar"}, Volume: record.Amount{Value: 45, Unit: "cm3"},
		Fill: 2, Stabilise: 6, Test: 5, Vent: 1, LimitDrop: &record.Amount{Value: 50, Unit: "Pa"},
		ShowUnit: "std cm3/min", ShowRef: "20C", Allowance: 0.1, Background: true,
	},
	conditions: record.Conditions{Gas: "air", Pressure: record.Amount{Value: 600, Unit: "mbar"}, Ambient: record.Amount{Value: 21, Unit: "degC"},
		Solution: "film", Wetted: "after", Setup: "blanking plug in place of the part"},
	joints: []record.Joint{
		joint("Instrument test port", "instrument-port", "test", 4),
		joint("Instrument reference port", "instrument-port", "reference", 4),
		joint("Elbow at the manifold", "pipe-thread", "test", 10),
		joint("Tee, run left", "compression", "test", 4),
		joint("Tee, run right", "compression", "test", 4),
		joint("Tee, branch", "compression", "test", 4),
		joint("Nest face seal", "face-seal", "test", 18),
		joint("Outlet probe seal", "part-seal", "test", 8),
		joint("Reference volume cap", "manifold-plug", "reference", 12),
		joint("Pilot tube to the probe", "push-to-connect", "control", 4),
		joint("Step-down regulator", "regulator", "supply", 10),
	},
	incidents: map[at]incident{
		{2, 9}:  {look: bubbles(20, 30, 2), mend: mended("on-spot", "scratched", "part-replaced")},
		{7, 7}:  {look: bubbles(4, 60, 1.5), mend: mended("on-spot", "dirt", "cleaned")},
		{11, 2}: {look: bubbles(2, 60, 1), review: &record.Review{Verdict: "accept", Note: "Far below the allowance; left as it is."}},
	},
}

var pilotValve = fixture{
	name: "Diaphragm pilot, vacuum", place: "Station 3",
	program: record.Program{
		Name: "Vacuum hold", Gas: "air", Pressure: record.Amount{Value: -80, Unit: "kPa"}, Volume: record.Amount{Value: 200, Unit: "cm3"},
		Fill: 6, Stabilise: 12, Test: 10, Vent: 2, LimitRate: &record.Rate{Value: 1, Unit: "std cm3/min", Ref: "0C"},
		ShowUnit: "std cm3/min", ShowRef: "0C", Allowance: 0.1,
	},
	conditions: record.Conditions{Gas: "air", Pressure: record.Amount{Value: 80, Unit: "kPa"}, Ambient: record.Amount{Value: 22, Unit: "degC"},
		Solution: "film", Wetted: "after", Setup: "nest empty and blanked, gauge isolated, rated pressures read"},
	joints: []record.Joint{
		joint("Instrument test port", "instrument-port", "test", 6),
		joint("Vacuum line, pump end", "flared", "supply", 10),
		joint("Vacuum line, valve end", "flared", "test", 10),
		joint("Check valve", "check-valve", "test", 10),
		joint("Nest gasket", "gasket", "test", 30),
		joint("Nest tube, welded stub", "weld", "test", 6),
		joint("Hose to the nest", "hose-barb", "test", 6),
		joint("Vent valve", "valve-seat", "vent", 6),
	},
	incidents: map[at]incident{
		{3, 4}:  {look: bubbles(9, 30, 2.5), mend: mended("on-spot", "seal-worn", "seal-replaced")},
		{11, 6}: {look: bubbles(5, 30, 2), mend: mended("later", "loose", "tightened")},
	},
}
