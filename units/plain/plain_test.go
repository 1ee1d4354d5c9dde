package plain_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"reflect"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"example.org/levelhead/units"
	"example.org/levelhead/units/plain"
)

type side int

func (s side) String() string { return [...]string{"left", "right"}[s] }

type Inner struct {
	Arms []units.Angle `json:"arms"`
	Low  *units.Length
}

type row struct {
	*Inner
	Stick       units.Ratio      `json:"stick"`
	Gauge       units.Angle      `json:"gauge" plain:"without=Unreachable"`
	Side        side             `json:"side"`
	Points      [][2]units.Ratio `json:"points"`
	Off         float64          `json:"off" plain:"as=angle"`
	Where       map[string]units.Length
	By          any
	List        []any
	None        []units.Angle
	Left        units.Force `json:"left,omitempty"`
	Loaded      bool
	Load        units.Torque `plain:"with=Loaded"`
	Right       int          `plain:"when=Side:right"`
	Left2       int          `plain:"when=Side:left"`
	Unreachable string       `json:"unreachable,omitempty"`
	Err         error
	Hidden      int `json:"-"`
	secret      int
}

type CornerError struct {
	At  units.Angle
	Err error
}

func (e *CornerError) Error() string { return "no corner" }
func (e *CornerError) Unwrap() error { return e.Err }

func TestMarshal(t *testing.T) {
	const mm, deg = units.Millimetre, units.Degree
	low := 12.7 * mm
	got, err := plain.Marshal("row", []*row{{
		Inner: &Inner{[]units.Angle{1.5 * deg, units.Angle(math.NaN()), 0}, &low}, Stick: 0.29, Gauge: -0.1 * deg, Side: 1,
		Points: [][2]units.Ratio{{0, -0.3}, {1, 0.94}}, Off: math.Pi, Where: map[string]units.Length{"b": mm, "a": 2 * mm},
		By: 3 * units.NewtonMetre, List: []any{deg, "word", nil, 7}, Loaded: true, Load: 0.5 * units.NewtonMetre,
		Err: fmt.Errorf("at mid stick: %w", &CornerError{30 * deg, errors.New("why")}), secret: 1,
	}}[0])
	if err != nil {
		t.Fatal(err)
	}
	const want = `{
  "format": 1,
  "what": "row",
  "arms_deg": [1.5, null, 0],
  "low_mm": 12.7,
  "stick_percent": 29,
  "gauge_deg": -0.1,
  "side": "right",
  "points_percent": [[0, -30], [100, 94]],
  "off_deg": 180,
  "where_mm": {
    "a": 2,
    "b": 1
  },
  "by_Nm": 3,
  "list": [
    {
      "value_deg": 1
    },
    "word",
    null,
    7
  ],
  "none_deg": [],
  "loaded": true,
  "load_Nm": 0.5,
  "right": 0,
  "err": {
    "kind": "error",
    "text": "at mid stick: no corner",
    "cause": {
      "kind": "plain_test corner error",
      "text": "no corner",
      "at_deg": 30,
      "cause": {
        "kind": "error",
        "text": "why"
      }
    }
  }
}
`
	if diff := cmp.Diff(want, string(got)); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
	gone, err := plain.Marshal("row", row{Unreachable: "the link", Gauge: units.Angle(math.Inf(1))})
	if err != nil {
		t.Fatal(err)
	}
	for _, key := range []string{"gauge_deg", "load_Nm", "left_N", "low_mm", "arms_deg", "by", "err", "Hidden", "secret"} {
		if strings.Contains(string(gone), `"`+key+`"`) {
			t.Errorf("%q is there:\n%s", key, gone)
		}
	}
}

type loop struct{ Next *loop }
type forever struct{}

func (f forever) PlainJSON() any { return f }

type panics struct{}

func (panics) Error() string { panic("no") }

func TestErrors(t *testing.T) {
	self := &loop{}
	self.Next = self
	list := []any{nil}
	list[0] = list
	huge := units.Angle(math.MaxFloat64)
	for name, tt := range map[string]struct {
		value any
		path  string
		says  string
	}{
		"nothing":    {nil, "", "can write a struct"},
		"a list":     {[]int{1}, "", "can write a struct"},
		"a number":   {1, "", "can write a struct"},
		"itself":     {self, "next", "holds itself"},
		"a list's":   {struct{ L []any }{list}, "l[0]", "holds itself"},
		"forever":    {struct{ F forever }{}, "f", "stands in more than"},
		"a function": {struct{ F func() }{func() {}}, "f", "has no form"},
		"complex":    {struct{ C []complex128 }{make([]complex128, 1)}, "c[0]", "has no form"},
		"a panic":    {struct{ E error }{panics{}}, "e", "panics: no"},
		"two of one": {struct{ A, B int }{}, "", ""},
		"one key": {struct {
			A int `json:"b"`
			B int
		}{}, "b", "two fields"},
		"a map's key": {struct{ M map[[1]int]int }{map[[1]int]int{{1}: 1}}, "m", "has a key of [1]int"},
		"ours":        {struct{ Format int }{}, "format", "every result"},
		"a tag": {struct {
			A int `plain:"with=B"`
		}{}, "", `no field "B"`},
		"another tag": {struct {
			A int `plain:"like=B"`
		}{}, "", `with, without, when or as`},
		"as no such": {struct {
			A float64 `plain:"as=speed"`
		}{}, "", `one of the quantities`},
		"too large": {struct{ A units.Angle }{huge}, "a_deg", "too large"},
	} {
		data, err := plain.Marshal("test", tt.value)
		if tt.says == "" {
			if err != nil {
				t.Errorf("%s: %v", name, err)
			}
			continue
		}
		var e *plain.Error
		if !errors.As(err, &e) || e.Path != tt.path || !strings.Contains(e.Reason, tt.says) || data != nil {
			t.Errorf("%s: %v at %q, want %q at %q", name, err, e.Path, tt.says, tt.path)
		}
	}
	if _, err := plain.Marshal("", struct{}{}); err == nil {
		t.Error("without what it is")
	}
}

// Each quantity with what keys of it end in, and its unit in SI units. By the table of the
// package doc.
var quantities = []struct {
	t    reflect.Type
	ends string
	unit float64
}{
	{reflect.TypeFor[units.Angle](), "_deg", math.Pi / 180},
	{reflect.TypeFor[units.AngularSpeed](), "_rpm", 2 * math.Pi / 60},
	{reflect.TypeFor[units.Length](), "_mm", 1e-3},
	{reflect.TypeFor[units.Velocity](), "_m_per_s", 1},
	{reflect.TypeFor[units.Mass](), "_g", 1e-3},
	{reflect.TypeFor[units.Inertia](), "_g_cm2", 1e-7},
	{reflect.TypeFor[units.Time](), "_s", 1},
	{reflect.TypeFor[units.PulseWidth](), "_us", 1e-6},
	{reflect.TypeFor[units.Force](), "_N", 1},
	{reflect.TypeFor[units.Torque](), "_Nm", 1},
	{reflect.TypeFor[units.Stiffness](), "_N_per_mm", 1e3},
	{reflect.TypeFor[units.Voltage](), "_V", 1},
	{reflect.TypeFor[units.Current](), "_A", 1},
	{reflect.TypeFor[units.Resistance](), "_mOhm", 1e-3},
	{reflect.TypeFor[units.Power](), "_W", 1},
	{reflect.TypeFor[units.Ratio](), "_percent", 1e-2},
}

// Every quantity comes out under a key of its unit, and within one unit in the last place,
// whatever it stands in.
func property(t *rapid.T) {
	type field struct {
		in   []float64 // in SI units, in the order of the lists
		ends string
		unit float64
	}
	var fields []reflect.StructField
	var values []reflect.Value
	want := map[string]field{}
	for i := range rapid.IntRange(1, 8).Draw(t, "fields") {
		q := rapid.SampledFrom(quantities).Draw(t, "quantity")
		f := field{ends: q.ends, unit: q.unit}
		var make func(depth int) reflect.Value
		make = func(depth int) reflect.Value {
			leaf := func() reflect.Value {
				x := rapid.OneOf(rapid.Float64Range(-1e6, 1e6), rapid.Float64Range(-1e-6, 1e-6), rapid.Float64Range(-1e290, 1e290), rapid.SampledFrom([]float64{0, math.Copysign(0, -1), math.NaN(), math.Inf(1), math.Inf(-1), 5e-324, 0.1, 1e-300})).Draw(t, "x")
				f.in = append(f.in, x)
				return reflect.ValueOf(x).Convert(q.t)
			}
			switch kind := rapid.IntRange(0, 4).Draw(t, "kind"); {
			case depth > 3 || kind == 0:
				return leaf()
			case kind == 1: // a pointer
				of := make(depth + 1)
				p := reflect.New(of.Type())
				p.Elem().Set(of)
				return p
			case kind == 2: // a list
				first := make(depth + 1)
				list := reflect.MakeSlice(reflect.SliceOf(first.Type()), 0, 1)
				return reflect.Append(list, first)
			case kind == 3: // a pair
				a := leaf()
				pair := reflect.New(reflect.ArrayOf(2, a.Type())).Elem()
				pair.Index(0).Set(a)
				pair.Index(1).Set(leaf())
				return pair
			default:
				first := make(depth + 1)
				m := reflect.MakeMap(reflect.MapOf(reflect.TypeFor[string](), first.Type()))
				m.SetMapIndex(reflect.ValueOf("key"), first)
				return m
			}
		}
		v := make(0)
		stem := fmt.Sprintf("f%d", i)
		typ := v.Type()
		if rapid.Bool().Draw(t, "any") {
			typ = reflect.TypeFor[any]()
		}
		fields = append(fields, reflect.StructField{Name: strings.ToUpper(stem), Type: typ})
		values = append(values, v)
		want[stem] = f
	}
	whole := reflect.New(reflect.StructOf(fields)).Elem()
	for i, v := range values {
		whole.Field(i).Set(v)
	}
	data, err := plain.Marshal("test", whole.Interface())
	if err != nil {
		t.Fatal(err)
	}
	var got map[string]any
	if err := json.Unmarshal(data, &got); err != nil {
		t.Fatalf("%v in %s", err, data)
	}
	delete(got, "format")
	delete(got, "what")
	for stem, f := range want {
		var out []any // numbers, and nil for null
		var walk func(v any)
		walk = func(v any) {
			switch v := v.(type) {
			case []any:
				for _, item := range v {
					walk(item)
				}
			case map[string]any:
				for _, item := range v {
					walk(item)
				}
			default:
				out = append(out, v)
			}
		}
		if v, ok := got[stem+f.ends]; ok {
			walk(v)
		}
		delete(got, stem+f.ends)
		k := 0
		for _, x := range f.in {
			if math.IsNaN(x) || math.IsInf(x, 0) {
				if k < len(out) && out[k] == nil {
					k++
				}
				continue
			}
			if k == len(out) {
				t.Fatalf("%s: %v is not in\n%s", stem, x, data)
			}
			y, ok := out[k].(float64)
			exact := x / f.unit
			if !ok || y < math.Nextafter(exact, math.Inf(-1)) || y > math.Nextafter(exact, math.Inf(1)) {
				t.Fatalf("%s: %v came out as %v, want %v", stem, x, out[k], exact)
			}
			k++
		}
		if k != len(out) {
			t.Fatalf("%s: more came out than went in:\n%s", stem, data)
		}
	}
	if len(got) > 0 {
		t.Fatalf("keys %v of no field", got)
	}
	again, _ := plain.Marshal("test", whole.Interface())
	if string(again) != string(data) {
		t.Fatal("other bytes when it is written again")
	}
}

func TestProperty(t *testing.T) { rapid.Check(t, property) }

func FuzzProperty(f *testing.F) { f.Fuzz(rapid.MakeFuzz(property)) }

// The table of endings in the package doc is that of the quantities.
func TestSuffix(t *testing.T) {
	for i, got := range []string{plain.Suffix[units.Angle](), plain.Suffix[units.AngularSpeed](), plain.Suffix[units.Length](), plain.Suffix[units.Velocity](),
		plain.Suffix[units.Mass](), plain.Suffix[units.Inertia](), plain.Suffix[units.Time](), plain.Suffix[units.PulseWidth](),
		plain.Suffix[units.Force](), plain.Suffix[units.Torque](), plain.Suffix[units.Stiffness](), plain.Suffix[units.Voltage](),
		plain.Suffix[units.Current](), plain.Suffix[units.Resistance](), plain.Suffix[units.Power](), plain.Suffix[units.Ratio]()} {
		if "_"+got != quantities[i].ends {
			t.Errorf("keys of %v end in %q, want %q", quantities[i].t, got, quantities[i].ends)
		}
	}
}

// The outline of a type has every key that a value of it gets.
func TestOutline(t *testing.T) {
	entries, err := plain.Outline(reflect.TypeFor[row]())
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, e := range entries {
		got = append(got, e.Path+" "+e.Shape)
	}
	want := []string{"arms_deg list of numbers", "low_mm number", "stick_percent number", "gauge_deg number", "side word", "points_percent list of lists of numbers",
		"off_deg number", "where_mm object", "by any", "list list of anything", "none_deg list of numbers", "left_N number", "loaded true or false", "load_Nm number", "right number", "left2 number",
		"unreachable word", "err object", "err.kind word", "err.text word"}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
}
