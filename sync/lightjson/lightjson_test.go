package lightjson

import (
	"bytes"
	"encoding/json"
	"math"
	"reflect"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// The reference is encoding/json of the standard library.

type name string

type inner struct {
	Text  string  `json:"text"`
	Share float64 `json:"share,omitempty"`
}

type base struct {
	ID   string `json:"id"`
	Kind name   `json:"kind,omitempty"`
}

// every has a field of each kind that phone and server use.
type every struct {
	base
	Number  int               `json:"number"`
	Whole   uint64            `json:"whole,omitempty"`
	Small   int8              `json:"small"`
	Real    float64           `json:"real"`
	Half    float32           `json:"half"`
	Yes     bool              `json:"yes,omitempty"`
	One     inner             `json:"one"`
	None    inner             `json:"none,omitempty"`
	Maybe   *inner            `json:"maybe"`
	Left    *float64          `json:"left,omitempty"`
	Texts   []string          `json:"texts"`
	Many    []inner           `json:"many,omitempty"`
	Table   [][]float64       `json:"table"`
	Named   map[string]uint64 `json:"named"`
	Kinds   map[name]inner    `json:"kinds,omitempty"`
	Raw     json.RawMessage   `json:"raw,omitempty"`
	Any     any               `json:"any"`
	Untold  string            `json:"-"`
	Plain   string
	private int
}

// reference is json.Marshal with nothing escaped for HTML.
func reference(value any) (string, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	err := e.Encode(value)
	return strings.TrimSuffix(b.String(), "\n"), err
}

func anyEvery(t *rapid.T) every {
	texts := rapid.OneOf(rapid.String(), rapid.StringN(0, 5, 9), rapid.SampledFrom([]string{
		"", "\u2028 \u2029", "<&>", "\xff\xfe", "a\xc3", "\"\\/", "\b\f\n\r\t\x00\x1f\x7f", "😀", "�"}))
	reals := rapid.OneOf(rapid.Float64(), rapid.SampledFrom([]float64{0, math.Copysign(0, -1), 1e21, 1e-6, 9.99e-7, 1e20, 5e-324, -1e-9}))
	inners := rapid.Custom(func(t *rapid.T) inner { return inner{texts.Draw(t, "text"), reals.Draw(t, "share")} })
	e := every{
		base:   base{texts.Draw(t, "id"), name(texts.Draw(t, "kind"))},
		Number: rapid.Int().Draw(t, "number"), Whole: rapid.Uint64().Draw(t, "whole"), Small: rapid.Int8().Draw(t, "small"),
		Real: reals.Draw(t, "real"), Half: rapid.Float32().Draw(t, "half"), Yes: rapid.Bool().Draw(t, "yes"),
		One: inners.Draw(t, "one"), Maybe: rapid.Ptr(inners, true).Draw(t, "maybe"), Left: rapid.Ptr(reals, true).Draw(t, "left"),
		Texts: rapid.SliceOf(texts).Draw(t, "texts"), Many: rapid.SliceOf(inners).Draw(t, "many"),
		Table: rapid.SliceOf(rapid.SliceOf(reals)).Draw(t, "table"), Named: rapid.MapOf(texts, rapid.Uint64()).Draw(t, "named"),
		Kinds: rapid.MapOf(rapid.Map(texts, func(s string) name { return name(s) }), inners).Draw(t, "kinds"),
		Raw:   json.RawMessage(rapid.SampledFrom([]string{"null", ` { "a" : [ 1 , "<b> c" ] } `, "1e3", `""`}).Draw(t, "raw")),
		Any:   rapid.SampledFrom([]any{nil, true, "x", 1.5, []any{nil, 2.0}, map[string]any{"b": 1.0, "a": []any{}}}).Draw(t, "any"),
	}
	e.Untold, e.Plain, e.private = "untold", "plain", 1
	return e
}

func TestWritesAndReadsAsTheStandardLibrary(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		value := anyEvery(t)
		want, err := reference(value)
		got, bad := Marshal(&value)
		if string(got) != want || err != nil || bad != nil {
			t.Fatalf("wrote\n%s (%v)\n%s (%v) by the reference", got, bad, want, err)
		}
		var read, wanted every
		if err := json.Unmarshal(got, &wanted); err != nil {
			t.Fatal(err)
		}
		if err := Unmarshal(got, &read); err != nil || !reflect.DeepEqual(read, wanted) {
			t.Fatalf("read\n%+v (%v)\n%+v by the reference", read, err, wanted)
		}
	})
}

func TestRefusals(t *testing.T) {
	for _, bad := range []any{math.NaN(), []float64{math.Inf(1)}, json.RawMessage("{"), map[int]string{1: "x"}, func() {}, struct{ C chan int }{}} {
		if out, err := Marshal(bad); err == nil {
			t.Errorf("%T was written as %s", bad, out)
		}
	}
	var e every
	for _, into := range []any{nil, e, (*every)(nil)} {
		if Unmarshal([]byte("{}"), into) == nil {
			t.Errorf("%T was read into", into)
		}
	}
	var stringer interface{ String() string }
	var numbers map[int]string
	for _, into := range []any{&stringer, &numbers} {
		if Unmarshal([]byte(`{"a":1}`), into) == nil {
			t.Errorf("%T was read into", into)
		}
	}
}

// TestDepth: a text is valid as deep as the reference allows, and is read to where a phone's stack still holds.
func TestDepth(t *testing.T) {
	nested := func(n int) []byte { return []byte(strings.Repeat("[", n) + strings.Repeat("]", n)) }
	for n, want := range map[int]bool{1: true, deepest: true, deepest + 1: false} {
		if Valid(nested(n)) != want || json.Valid(nested(n)) != want {
			t.Errorf("%d deep: want valid %v", n, want)
		}
	}
	var value any
	if Unmarshal(nested(deepRead), &value) != nil || Unmarshal(nested(deepRead+1), &value) != errDeep {
		t.Errorf("read other than %d deep", deepRead)
	}
	wide := "[" + strings.Repeat("[],", 2*deepRead) + "[]]"
	if Unmarshal([]byte(wide), &value) != nil {
		t.Error("many beside each other are taken for deep")
	}
	var raw struct{ Raw json.RawMessage }
	if Unmarshal(append(append([]byte(`{"Raw":`), nested(deepest-1)...), '}'), &raw) != nil || len(raw.Raw) != 2*(deepest-1) {
		t.Error("what is left as it stands may be as deep as is valid")
	}
}

// FuzzRead gives any text to both; what names a field in another case, or twice, is left out: there they differ by intent.
func FuzzRead(f *testing.F) {
	for _, seed := range []string{
		"", "null", " {} ", "[", "[1,]", `{"a":}`, `{"a":1,}`, `{,}`, "01", "-", "1.", "1e", "1e+", "-0", "1E5", "tru", "nulls", "\x00", `"\u12"`, `"\ud83d\ude00"`, `"\ud83dx"`,
		`"\ude00\ud83d"`, `"\q"`, "\"\t\"", "\"\xff\"", `{"number":1.5}`, `{"number":1e2}`, `{"small":128}`, `{"whole":-1}`, `{"real":1e999}`, `{"any":[1e999]}`, `{"half":1e39}`,
		`{"one":null,"maybe":null,"texts":null,"named":null,"any":null,"raw":null,"number":null}`, `{"one":[],"yes":0}`, `{"texts":{}}`,
		`{"id":"x","kind":"y","Plain":"z","-":"no","Untold":"no","private":2}`, `{"raw": [ 1 , {"a" : "\u0041"} ] ,"any":{"b":[true,false,null]}}`, `{"\u0069d":"escaped"}`, `{"kinds":{"a":{"text":"t"}},"table":[[1],[]]}`,
	} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		if Valid(data) != json.Valid(data) {
			t.Fatalf("valid %v, %v by the reference", Valid(data), json.Valid(data))
		}
		if apart(data) {
			return
		}
		var got, want every
		compare(t, &got, &want, Unmarshal(data, &got), json.Unmarshal(data, &want))
		var free, wanted any
		compare(t, &free, &wanted, Unmarshal(data, &free), json.Unmarshal(data, &wanted))
	})
}

func compare(t *testing.T, got, want any, err, wanted error) {
	t.Helper()
	if (err == nil) != (wanted == nil) {
		t.Fatalf("read with %v, with %v by the reference", err, wanted)
	}
	if err == nil && !reflect.DeepEqual(got, want) {
		t.Fatalf("read\n%+v\n%+v by the reference", got, want)
	}
}

// apart says that a text is one of those on which the two differ by intent.
func apart(data []byte) bool {
	d := json.NewDecoder(bytes.NewReader(data))
	seen, depth := map[string]bool{}, 0
	for {
		token, err := d.Token()
		if err != nil {
			return false
		}
		switch v := token.(type) {
		case json.Delim:
			if v == '{' || v == '[' {
				depth++
			} else {
				depth--
			}
			if depth > deepRead {
				return true
			}
		case string:
			folded := strings.ToLower(v)
			if seen[folded] { // a member twice, or one in two cases; texts that come twice are left out with them
				return true
			}
			seen[folded] = true
			if m := folds(v); m {
				return true
			}
		}
	}
}

// folds says that a text is a field's name in another case.
func folds(text string) bool {
	for _, m := range append(membersOf(reflect.TypeFor[every]()), membersOf(reflect.TypeFor[inner]())...) {
		if m.name != text && strings.EqualFold(m.name, text) {
			return true
		}
	}
	return false
}

func FuzzQuotes(f *testing.F) {
	for _, seed := range []string{"", "a", "\xff", "\u2028", "<", "\x00\x7f", "😀\xf0"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		got, err := Marshal(text)
		want, bad := reference(text)
		if string(got) != want || err != nil || bad != nil {
			t.Fatalf("%s (%v), %s (%v) by the reference", got, err, want, bad)
		}
	})
}
