package lightjson

import (
	"reflect"
	"strconv"
)

// Unmarshal reads one JSON value into what a pointer points to. A field that the text does not name stays as it was, a name
// that the type does not know is passed over. Errors: the text is not one JSON value, or one in it does not fit its place;
// then what stands before that one may have been read.
func Unmarshal(data []byte, into any) error {
	v := reflect.ValueOf(into)
	if v.Kind() != reflect.Pointer || v.IsNil() {
		return errTarget
	}
	if !Valid(data) {
		return errSyntax
	}
	r := reader{scan: scan{data: data}}
	return r.value(v.Elem())
}

// reader reads text that is known to be valid.
type reader struct {
	scan
	deep int
}

func (r *reader) value(v reflect.Value) error {
	if v.Type() == rawType {
		r.raw(v)
		return nil
	}
	if r.peek() == 'n' {
		r.null(v)
		return nil
	}
	switch v.Kind() {
	case reflect.Pointer:
		if v.IsNil() {
			v.Set(reflect.New(v.Type().Elem()))
		}
		return r.value(v.Elem())
	case reflect.Interface:
		if v.NumMethod() > 0 {
			return errKind
		}
		return r.anything(v)
	}
	return r.plain(v)
}

func (r *reader) anything(v reflect.Value) error {
	value, err := r.free()
	if err == nil {
		v.Set(reflect.ValueOf(value))
	}
	return err
}

func (r *reader) raw(v reflect.Value) {
	r.blank()
	from := r.at
	r.skip()
	v.SetBytes(append([]byte(nil), r.data[from:r.at]...))
}

// null takes a value from where one may be lacking, and leaves all else as it is.
func (r *reader) null(v reflect.Value) {
	r.word("null")
	switch v.Kind() {
	case reflect.Pointer, reflect.Map, reflect.Slice, reflect.Interface:
		v.SetZero()
	}
}

// plain reads what is neither null nor behind a pointer.
func (r *reader) plain(v reflect.Value) error {
	switch c := r.peek(); c {
	case '{':
		return r.object(v)
	case '[':
		return r.list(v)
	case '"':
		text := r.text()
		if v.Kind() != reflect.String {
			return errKind
		}
		v.SetString(text)
	case 't', 'f':
		r.skip()
		if v.Kind() != reflect.Bool {
			return errKind
		}
		v.SetBool(c == 't')
	default:
		text, _ := r.number()
		return setNumber(v, string(text))
	}
	return nil
}

func setNumber(v reflect.Value, text string) error {
	switch {
	case v.CanInt():
		n, err := strconv.ParseInt(text, 10, 64)
		if err != nil || v.OverflowInt(n) {
			return errNumber
		}
		v.SetInt(n)
	case v.CanUint():
		n, err := strconv.ParseUint(text, 10, 64)
		if err != nil || v.OverflowUint(n) {
			return errNumber
		}
		v.SetUint(n)
	case v.CanFloat():
		n, err := strconv.ParseFloat(text, v.Type().Bits())
		if err != nil {
			return errNumber
		}
		v.SetFloat(n)
	default:
		return errKind
	}
	return nil
}

func (r *reader) object(v reflect.Value) error {
	switch v.Kind() {
	case reflect.Struct:
		return r.fields(v)
	case reflect.Map:
		return r.entries(v)
	}
	return errKind
}

// each calls one for every member between the bracket that comes next and its end, until one fails.
func (r *reader) each(end byte, one func() error) error {
	r.at++
	if r.deep++; r.deep > deepRead {
		return errDeep
	}
	for !r.is(end) {
		if err := one(); err != nil {
			return err
		}
		r.is(',')
	}
	r.deep--
	return nil
}

func (r *reader) fields(v reflect.Value) error {
	all := membersOf(v.Type())
	return r.each('}', func() error {
		m := named(all, r.name())
		if m == nil {
			r.skip()
			return nil
		}
		return r.value(v.FieldByIndex(m.index))
	})
}

func (r *reader) entries(v reflect.Value) error {
	t := v.Type()
	if t.Key().Kind() != reflect.String {
		return errKind
	}
	if v.IsNil() {
		v.Set(reflect.MakeMap(t))
	}
	return r.each('}', func() error {
		key := reflect.ValueOf(string(r.name())).Convert(t.Key())
		one := reflect.New(t.Elem()).Elem()
		if err := r.value(one); err != nil {
			return err
		}
		v.SetMapIndex(key, one)
		return nil
	})
}

func (r *reader) list(v reflect.Value) error {
	if v.Kind() != reflect.Slice {
		return errKind
	}
	v.Set(reflect.MakeSlice(v.Type(), 0, 0))
	return r.each(']', func() error {
		v.Grow(1)
		v.SetLen(v.Len() + 1)
		return r.value(v.Index(v.Len() - 1))
	})
}

// free reads a value into what its own kind asks for.
func (r *reader) free() (value any, err error) {
	switch r.peek() {
	case '{':
		object := map[string]any{}
		return object, r.each('}', func() (err error) {
			name := string(r.name())
			object[name], err = r.free()
			return err
		})
	case '[':
		list := []any{}
		err = r.each(']', func() error {
			one, err := r.free()
			list = append(list, one)
			return err
		})
		return list, err
	case '"':
		return r.text(), nil
	case 't':
		return r.word("true"), nil
	case 'f':
		return !r.word("false"), nil
	case 'n':
		r.word("null")
		return nil, nil
	}
	text, _ := r.number()
	n, err := strconv.ParseFloat(string(text), 64)
	if err != nil {
		return nil, errNumber
	}
	return n, nil
}

// name is the name of the next member of an object.
func (r *reader) name() []byte {
	r.peek()
	text, _ := r.quoted()
	r.is(':')
	return unquoted(text)
}

func (r *reader) text() string {
	text, _ := r.quoted()
	return string(unquoted(text))
}
