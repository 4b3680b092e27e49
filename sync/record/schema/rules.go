package schema

import (
	"slices"

	"jointwalk/sync/journal"
	"jointwalk/sync/record"
)

const (
	uuid  = "^[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}$"
	token = `^[!#-\[\]-~]{1,128}$` // visible ASCII without quotes or backslash
	time  = `^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}:\d{2}\.\d{3}Z$`
)

// rules are what the envelope and the receipt ask of their fields beyond the
// type.
var rules = map[string]node{
	"Event.v":       {"minimum": 1, "maximum": 1 << 20},
	"Event.id":      {"pattern": uuid},
	"Event.log":     {"pattern": uuid},
	"Event.seq":     {"minimum": 1, "maximum": journal.MaxNumber},
	"Event.prev":    {"pattern": "^([0-9a-f]{64})?$"},
	"Event.tick":    {"minimum": 1, "maximum": journal.MaxNumber},
	"Event.time":    {"pattern": time},
	"Event.zone":    {"pattern": token},
	"Event.by":      {"pattern": token},
	"Event.kind":    {"pattern": token},
	"Event.base":    {"pattern": token},
	"About.site":    {"pattern": token},
	"About.fixture": {"pattern": token},
	"About.of":      {"pattern": token},
	"Receipt.n":     {"minimum": 1, "maximum": journal.MaxNumber},
	"Receipt.at":    {"pattern": time},
	"Receipt.from":  {"pattern": token},
}

// vocabularies are the codes that a field of a body takes.
var vocabularies = map[string][]string{
	"Amount.unit":          slices.Concat(record.PressureUnits, record.LengthUnits, record.VolumeUnits, record.TemperatureUnits),
	"Rate.unit":            record.RateUnits,
	"Rate.ref":             record.RateRefs,
	"Program.gas":          record.Gases,
	"Program.showUnit":     record.RateUnits,
	"Program.showRef":      record.RateRefs,
	"Joint.kind":           record.JointKinds,
	"Joint.circuit":        record.Circuits,
	"JointEdit.kind":       record.JointKinds,
	"JointEdit.circuit":    record.Circuits,
	"Conditions.gas":       record.Gases,
	"Conditions.solution":  record.Solutions,
	"Conditions.wetted":    record.Wettings,
	"RoundEnd.putBack":     record.PutBacks,
	"Look.result":          results(),
	"Look.why":             record.Whys,
	"Look.wiped":           record.Wipes,
	"Look.wetted":          record.Orders,
	"LookAmendment.result": results(),
	"Look.vented":          record.Vents,
	"LookAmendment.wiped":  record.Wipes,
	"LookAmendment.vented": record.Vents,
	"Observation.medium":   record.Solutions,
	"Observation.how":      record.Counts,
	"Observation.class":    record.Classes,
	"Size.as":              record.SizeAs,
	"Mend.when":            record.Mendings,
	"Mend.cause":           record.Causes,
	"Mend.action":          record.Actions,
	"Review.verdict":       record.Verdicts,
	"Picture.type":         record.PictureTypes,
}

func results() []string {
	var all []string
	for _, r := range record.Results {
		all = append(all, string(r))
	}
	return all
}

// vocabulary is a field's codes in the order of the alphabet, nil for none.
func vocabulary(field string) []string {
	codes := vocabularies[field]
	if codes == nil {
		return nil
	}
	codes = slices.Clone(codes)
	slices.Sort(codes)
	return codes
}
