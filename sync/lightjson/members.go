package lightjson

import (
	"encoding/json"
	"reflect"
	"strings"
	"sync"
)

// member is one field of a struct as JSON knows it.
type member struct {
	name     string
	index    []int // through embedded structs
	optional bool  // left out where it is empty
}

var (
	rawType = reflect.TypeFor[json.RawMessage]()
	known   sync.Map // reflect.Type → []member
)

// membersOf are the fields of a struct type, those of an embedded struct where that stands.
func membersOf(t reflect.Type) []member {
	if found, ok := known.Load(t); ok {
		return found.([]member)
	}
	var all []member
	for i := range t.NumField() {
		all = append(all, membersAt(t.Field(i))...)
	}
	known.Store(t, all)
	return all
}

func membersAt(f reflect.StructField) (all []member) {
	name, rest, _ := strings.Cut(f.Tag.Get("json"), ",")
	if f.Anonymous && name == "" {
		for _, m := range membersOf(f.Type) {
			m.index = append([]int{f.Index[0]}, m.index...)
			all = append(all, m)
		}
		return all
	}
	if name == "-" || !f.IsExported() {
		return nil
	}
	if name == "" {
		name = f.Name
	}
	return []member{{name: name, index: f.Index, optional: rest == "omitempty"}}
}

// named is the member of a name, nil for none.
func named(all []member, name []byte) *member {
	for i := range all {
		if all[i].name == string(name) {
			return &all[i]
		}
	}
	return nil
}
