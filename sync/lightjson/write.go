package lightjson

import (
	"math"
	"reflect"
	"slices"
	"strconv"
	"strings"
)

// Marshal writes a value as JSON: fields in the order of their struct, a map's names in the order of their bytes. Errors: a
// number that is infinite or none, a json.RawMessage that is not one JSON value, and a kind that JSON does not have.
func Marshal(value any) ([]byte, error) {
	w := writer{}
	if err := w.value(reflect.ValueOf(value)); err != nil {
		return nil, err
	}
	return w.out, nil
}

type writer struct{ out []byte }

func (w *writer) text(s string) { w.out = append(w.out, s...) }

func (w *writer) value(v reflect.Value) error {
	switch v.Kind() {
	case reflect.Bool:
		w.out = strconv.AppendBool(w.out, v.Bool())
	case reflect.String:
		w.out = appendQuoted(w.out, v.String())
	case reflect.Int, reflect.Int8, reflect.Int16, reflect.Int32, reflect.Int64:
		w.out = strconv.AppendInt(w.out, v.Int(), 10)
	case reflect.Uint, reflect.Uint8, reflect.Uint16, reflect.Uint32, reflect.Uint64:
		w.out = strconv.AppendUint(w.out, v.Uint(), 10)
	case reflect.Float32, reflect.Float64:
		return w.float(v.Float(), v.Type().Bits())
	case reflect.Struct:
		return w.fields(v)
	default:
		return w.nullable(v)
	}
	return nil
}

func (w *writer) nullable(v reflect.Value) error {
	switch v.Kind() {
	case reflect.Invalid:
	case reflect.Pointer, reflect.Interface, reflect.Map, reflect.Slice:
		if !v.IsNil() {
			return w.there(v)
		}
	default:
		return errForeign
	}
	w.text("null")
	return nil
}

// there writes what can be nil and is not.
func (w *writer) there(v reflect.Value) error {
	switch {
	case v.Kind() == reflect.Map:
		return w.entries(v)
	case v.Type() == rawType:
		return w.raw(v.Bytes())
	case v.Kind() == reflect.Slice:
		return w.list(v)
	}
	return w.value(v.Elem())
}

// float writes the shortest text that reads back as the same number.
func (w *writer) float(f float64, bits int) error {
	if math.IsNaN(f) || math.IsInf(f, 0) {
		return errInfinite
	}
	form := byte('f')
	if size := math.Abs(f); size != 0 && (size < 1e-6 || size >= 1e21) {
		form = 'e'
	}
	w.out = strconv.AppendFloat(w.out, f, form, -1, bits)
	if n := len(w.out); form == 'e' && w.out[n-4] == 'e' && w.out[n-2] == '0' {
		w.out = append(w.out[:n-2], w.out[n-1]) // e-9, not e-09
	}
	return nil
}

func (w *writer) fields(v reflect.Value) error {
	return w.between('{', '}', func(next func()) error {
		for _, m := range membersOf(v.Type()) {
			f := v.FieldByIndex(m.index)
			if m.optional && isEmpty(f) {
				continue
			}
			next()
			if err := w.member(m.name, f); err != nil {
				return err
			}
		}
		return nil
	})
}

func (w *writer) entries(v reflect.Value) error {
	if v.Type().Key().Kind() != reflect.String {
		return errForeign
	}
	keys := v.MapKeys()
	slices.SortFunc(keys, func(a, b reflect.Value) int { return strings.Compare(a.String(), b.String()) })
	return w.between('{', '}', func(next func()) error {
		for _, key := range keys {
			next()
			if err := w.member(key.String(), v.MapIndex(key)); err != nil {
				return err
			}
		}
		return nil
	})
}

func (w *writer) list(v reflect.Value) error {
	return w.between('[', ']', func(next func()) error {
		for i := range v.Len() {
			next()
			if err := w.value(v.Index(i)); err != nil {
				return err
			}
		}
		return nil
	})
}

// between writes members between two brackets; they call next before each.
func (w *writer) between(first, last byte, members func(next func()) error) error {
	w.out = append(w.out, first)
	some := false
	err := members(func() {
		if some {
			w.out = append(w.out, ',')
		}
		some = true
	})
	w.out = append(w.out, last)
	return err
}

func (w *writer) member(name string, v reflect.Value) error {
	w.out = append(appendQuoted(w.out, name), ':')
	return w.value(v)
}

// isEmpty is what omitempty means.
func isEmpty(v reflect.Value) bool {
	switch v.Kind() {
	case reflect.Map, reflect.Slice:
		return v.Len() == 0
	case reflect.Struct:
		return false
	}
	return v.IsZero()
}

// raw writes a value without the blanks between its parts.
func (w *writer) raw(data []byte) error {
	if !Valid(data) {
		return errSyntax
	}
	s := scan{data: data}
	for s.peek() != 0 {
		from := s.at
		if s.at++; data[from] == '"' {
			s.at = from
			_, _ = s.quoted()
		}
		w.out = append(w.out, data[from:s.at]...)
	}
	return nil
}
