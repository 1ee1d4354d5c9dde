package setup_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.org/levelhead/pitch/internal/rigtest"
	"example.org/levelhead/pitch/machine"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/servo/linkage"
	"example.org/levelhead/units"
)

// geometries are one of each geometry type, by its name in a machine file. Each takes an angle,
// and can drive the collective of the demonstration machine on bell cranks, with a lever behind
// it where an angle comes out.
var geometries = map[string]string{
	"arm_to_arm": `{
		"driving": {"shaft": {"x": "0 mm", "y": "-62 mm", "z": "24 mm"}, "axis": {"x": 1, "y": 0, "z": 0}, "neutral": {"x": 0, "y": 0, "z": 1}, "radius": "11 mm"},
		"driven": {"shaft": {"x": "3 mm", "y": "-26 mm", "z": "24 mm"}, "axis": {"x": 1, "y": 0.2, "z": 0}, "neutral": {"x": 0, "y": 0, "z": 1}, "radius": "14 mm"},
		"link": "36.5 mm"}`,
	"arm_to_line": `{
		"arm": {"shaft": {"x": "0 mm", "y": "-26 mm", "z": "24 mm"}, "axis": {"x": 1, "y": 0, "z": 0}, "neutral": {"x": 0, "y": 1, "z": 0}, "radius": "13 mm"},
		"link": "42 mm",
		"ball": {"x": "1 mm", "y": "-13 mm", "z": "66 mm"},
		"along": {"x": 0, "y": 0.1, "z": 1}}`,
	"lever": `{"ratio": 0.8}`,
}

// shapes are one of each way to draw a leg, the first one of the machine direct.json.
var shapes = map[string]string{
	"upright": `{"bearing": "0°", "ball_radius": "30 mm", "arm": "12 mm", "link": "58 mm", "points": "outward"}`,
	"spatial": `{"bearing": "0°", "ball_radius": "30 mm", "shaft": {"x": "0 mm", "y": "18 mm", "z": "4 mm"},
		"axis": {"x": 1, "y": 0, "z": 0}, "neutral": {"x": 0, "y": 1, "z": 0}, "arm": "12 mm", "link": "58 mm"}`,
}

// choices returns the fields of a struct of which one is given: pointers to a T that may be left
// out. Each must have an example, and each example a field.
func choices[T any](t *testing.T, of any, examples map[string]string) []string {
	t.Helper()
	var names []string
	for i := range reflect.TypeOf(of).NumField() {
		f := reflect.TypeOf(of).Field(i)
		name, options, _ := strings.Cut(f.Tag.Get("json"), ",")
		if options != "omitempty" || f.Type.Kind() != reflect.Pointer || !f.Type.Implements(reflect.TypeFor[T]()) {
			continue
		}
		names = append(names, name)
		if examples[name] == "" {
			t.Errorf("%T has a %s; add an example of it to the table", of, name)
		}
	}
	if len(names) < 2 || len(names) != len(examples) {
		t.Fatalf("%T has %q, and %d examples", of, names, len(examples))
	}
	return names
}

// spliced returns a machine file of the examples with a value put in at a path. A number in the path is
// a place in a list. The line is that on which the value begins.
func spliced(t *testing.T, file, value string, path ...any) (data []byte, line int) {
	t.Helper()
	var root any
	if err := json.Unmarshal(rigtest.Read(t, rigtest.Demos+file), &root); err != nil {
		t.Fatal(err)
	}
	const mark = "here it is"
	at := &root
	put := func(any) {}
	for _, step := range path {
		switch parent := (*at).(type) {
		case map[string]any:
			value := parent[step.(string)]
			at, put = &value, func(v any) { parent[step.(string)] = v }
		case []any:
			at, put = &parent[step.(int)], func(v any) { parent[step.(int)] = v }
		}
	}
	put(mark)
	data, err := json.MarshalIndent(root, "", " ")
	if err != nil {
		t.Fatal(err)
	}
	return bytes.Replace(data, []byte(`"`+mark+`"`), []byte(value), 1), rigtest.LineOf(data, mark)
}

// object returns the members of an object as text.
func object(of map[string]string, names ...string) string {
	var members []string
	for _, name := range names {
		members = append(members, `"`+name+`": `+of[name])
	}
	return "{" + strings.Join(members, ", ") + "}"
}

// Of a choice of fields none and every pair are refused, on the field and line that hold them.
func TestChoices(t *testing.T) {
	const servo = `"name": "front", "servo": {"type": "bench digital", "raises_on": "longer", "reverse": false}`
	lever := map[string]string{"ratio": `0.8`, "radius": `"13 mm"`}
	const member = "plate.bell_cranks.collective.chain[0]"
	atMember := []any{"plate", "bell_cranks", "collective", "chain", 0}
	for _, c := range []struct {
		file, path string
		at         []any
		names      []string
		examples   map[string]string
		around     func(object string) string
		none, both string // the words, of which %s are the fields
	}{
		{"bellcranks.json", member, atMember, choices[machine.Geometry](t, machine.Member{}, geometries), geometries,
			func(s string) string { return s }, "must have exactly one of %s", "must have exactly one of %s"},
		{"bellcranks.json", member, atMember, choices[any](t, machine.Lever{}, lever), lever,
			func(s string) string { return `{"lever": ` + s + `}` }, "must have exactly one of %s", "must have exactly one of %s"},
		{"direct.json", "plate.legs[0]", []any{"plate", "legs", 0}, choices[machine.Shape](t, machine.Leg{}, shapes), shapes,
			func(s string) string { return strings.Replace("{"+servo+", "+s[1:], ", }", "}", 1) },
			"has neither %s; give one of them", "has both %s; give one of them"},
	} {
		refuses := func(says string, given ...string) {
			t.Helper()
			data, line := spliced(t, c.file, c.around(object(c.examples, given...)), c.at...)
			_, err := rigtest.Open(data)
			var f *machine.FieldError
			var choice *machine.ChoiceError
			if !errors.As(err, &f) || f.Path != c.path || f.Line != line || f.Reason != says {
				t.Errorf("%q: %v, want %s and line %d: %s", given, err, c.path, line, says)
			} else if !errors.As(err, &choice) || !slices.Equal(choice.Given, given) || !slices.Equal(choice.Fields, c.names) {
				t.Errorf("%q: the cause is %+v", given, choice)
			}
		}
		say := func(words string, of []string) string {
			names := strings.Join(of, " nor ")
			if last := len(of) - 1; words != "has neither %s; give one of them" {
				names = strings.Join(of[:last], ", ") + " and " + of[last]
			}
			return strings.Replace(words, "%s", names, 1)
		}
		of := func(given ...string) []string { // that are named
			if strings.HasPrefix(c.both, "has both") {
				return given
			}
			return c.names
		}
		refuses(say(c.none, c.names))
		for i, a := range c.names {
			if data, _ := spliced(t, c.file, c.around(object(c.examples, a)), c.at...); c.path != member {
				rigtest.Build(t, data) // one alone is right; for members see TestEveryGeometry
			}
			for _, b := range c.names[i+1:] {
				refuses(say(c.both, of(a, b)), a, b)
			}
		}
		if len(c.names) > 2 {
			refuses(say(c.both, c.names), c.names...)
		}
	}
}

// What holds for one geometry type in a machine file holds for every one.
func TestEveryGeometry(t *testing.T) {
	for _, name := range choices[machine.Geometry](t, machine.Member{}, geometries) {
		t.Run(name, func(t *testing.T) {
			var alone machine.Member
			member := object(geometries, name)
			if err := json.Unmarshal([]byte(member), &alone); err != nil {
				t.Fatal(err)
			}
			kind, geometry, err := alone.Geometry()
			if err != nil || kind != name {
				t.Fatal(kind, err)
			}
			spec, err := geometry.Spec()
			if err != nil {
				t.Fatal(err)
			}
			l, err := spec.Build()
			if err != nil {
				t.Fatal(err)
			}
			chain := "[" + member + "]"
			if _, out := l.Kinds(); out == linkage.Angle {
				chain = "[" + member + `, {"lever": {"radius": "13 mm"}}]`
			}
			data, _ := spliced(t, "bellcranks.json", chain, "plate", "bell_cranks", "collective", "chain")
			m := rigtest.Parse(t, data)
			rig := rigtest.Build(t, data)

			again, err := json.Marshal(m)
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(alone, rigtest.Parse(t, again).Plate.BellCranks.Collective.Chain[0]); diff != "" {
				t.Errorf("written and read again: %s", diff)
			}
			links(t, rig, spec, l)
			arm(t, rig, spec)
			drawn(t, rig, spec, l)
			fields(t, geometry, spec, l)
		})
	}
}

// Every field that a shape of a leg names is one of the file.
func TestEveryShape(t *testing.T) {
	for _, name := range choices[machine.Shape](t, machine.Leg{}, shapes) {
		var leg machine.Leg
		if err := json.Unmarshal([]byte(object(shapes, name)), &leg); err != nil {
			t.Fatal(err)
		}
		field, shape, err := leg.Shape()
		if err != nil || field != name || len(shape.Fields()) == 0 {
			t.Fatal(field, err)
		}
		for _, path := range shape.Fields() {
			inFile(t, reflect.TypeOf(shape).Elem(), path)
		}
	}
}

// links checks that the parts of a rig, whose first chain begins with a linkage, have its link or
// none, as the linkage itself.
func links(t *testing.T, rig *setup.Rig, spec linkage.Spec, l linkage.Linkage) {
	t.Helper()
	parts := rig.Parts()
	before := parts.Links()
	linked, ok := l.(linkage.Linked)
	if have := spec.Link() != 0; have != ok || have != (before[0].Servo == 0) {
		t.Fatalf("the spec's link is %v, and %T is linkage.Linked: %v; links %+v", spec.Link(), l, ok, before)
	}
	const longer = 0.1 * units.Millimetre
	if !ok {
		if spec.WithLink(longer) != spec {
			t.Error("without a link, and yet WithLink changes it")
		}
		return
	}
	if _, ok := l.(linkage.Placed); !ok {
		t.Errorf("%T has a link and no place: it must be linkage.Placed", l)
	}
	slopes, err := linked.LinkSlopes(nil, 0)
	if err != nil || len(slopes) != 1 {
		t.Fatal(slopes, err)
	}
	parts.SetLink(0, before[0].Length+longer)
	after := parts.Links()
	if after[0].Length != spec.Link()+longer || !slices.Equal(after[1:], before[1:]) {
		t.Errorf("%+v, want link 0 alone longer by %v than in %+v", after, longer, before)
	}
	if _, err := parts.Head(); err != nil {
		t.Fatal(err)
	}
	changed, err := parts.Chains[0][0].Build()
	if err != nil {
		t.Fatal(err)
	}
	const roughly = 0.05 // of a derivative over a tenth of a millimetre
	if got := (move(t, changed, 0).Out - move(t, l, 0).Out) / float64(longer); !(math.Abs(got-slopes[0]) < roughly*math.Abs(slopes[0])) {
		t.Errorf("a longer link moves the output by %v of it, and LinkSlopes says %v", got, slopes[0])
	}
}

// arm checks that the arm of a rig's first servo can be changed, and what it moves
// then stands where it is drawn.
func arm(t *testing.T, rig *setup.Rig, spec linkage.Spec) {
	t.Helper()
	const radius = 12 * units.Millimetre
	changed, err := rig.WithArms(radius)
	if spec.Radius() == 0 {
		if f := (*machine.FieldError)(nil); !errors.As(err, &f) || f.Path != "plate.bell_cranks.collective.chain[0]" {
			t.Errorf("without an arm: %v", err)
		}
		return
	}
	if err != nil {
		t.Fatal(err)
	}
	to := changed.Parts().Chains[0][0]
	if to.Radius() != radius {
		t.Errorf("the arm is %v, want %v", to.Radius(), radius)
	}
	built, err := to.Build()
	if err != nil {
		t.Fatal(err)
	}
	const rounding = 1e-12 // rad or m
	if now := move(t, built, 0).Out; !(math.Abs(now) < rounding) {
		t.Errorf("what the arm moves stands at %v, and is drawn at 0", now)
	}
}

// drawn checks that a rig's plan shows its first linkage if it has a place.
func drawn(t *testing.T, rig *setup.Rig, spec linkage.Spec, l linkage.Linkage) {
	t.Helper()
	plan, err := rig.Plan()
	if err != nil {
		t.Fatal(err)
	}
	placed, ok := l.(linkage.Placed)
	if ok != (plan[0].Name == rig.Servos()[0].Name) {
		t.Fatalf("%T is linkage.Placed: %v; the plan begins with %+v", l, ok, plan[0])
	}
	if !ok {
		return
	}
	driving, driven := placed.Ends(0, move(t, l, 0).Out)
	if p := plan[0]; p.Shaft != driving.Shaft || p.Tip != driving.Ball || p.End != driven.Ball || (p.EndShaft != nil) != driven.OnArm {
		t.Errorf("%+v, want %+v and %+v", p, driving, driven)
	}
	const rounding = 1e-12 // m
	if r := driving.Shaft.Distance(driving.Ball); !(math.Abs(float64(r-spec.Radius())) < rounding) {
		t.Errorf("the arm is drawn %v long, want %v", r, spec.Radius())
	}
	if d := driving.Ball.Distance(driven.Ball); !(math.Abs(float64(d-spec.Link())) < rounding) {
		t.Errorf("the link is drawn %v long, want %v", d, spec.Link())
	}
}

// fields checks that whatever number of a spec is none, the error leads to a field of the file.
func fields(t *testing.T, geometry machine.Geometry, spec linkage.Spec, l linkage.Linkage) {
	t.Helper()
	var floats [][]int
	var find func(of reflect.Type, path []int)
	find = func(of reflect.Type, path []int) {
		switch of.Kind() {
		case reflect.Float64:
			floats = append(floats, slices.Clone(path))
		case reflect.Struct:
			for i := range of.NumField() {
				find(of.Field(i).Type, append(path, i))
			}
		}
	}
	find(reflect.TypeOf(spec), nil)
	if floats == nil {
		t.Fatalf("%T has no numbers", spec)
	}
	for _, index := range floats {
		bad := reflect.New(reflect.TypeOf(spec)).Elem()
		bad.Set(reflect.ValueOf(spec))
		bad.FieldByIndex(index).SetFloat(math.NaN())
		built, err := bad.Interface().(linkage.Spec).Build()
		if err == nil {
			if got, want := move(t, built, 0), move(t, l, 0); got != want {
				t.Errorf("%+v is taken, and moves %+v, not %+v", bad, got, want)
			}
			continue // not looked at
		}
		var f *units.FieldError
		if !errors.As(err, &f) {
			t.Errorf("%+v: %v is no *units.FieldError", bad, err)
			continue
		}
		path, inside := geometry.Fields().Of(f.Field, 0)
		if path == "" && inside == f.Field {
			t.Errorf("%v: the field %s has no name in the file", err, f.Field)
		}
		inFile(t, reflect.TypeOf(geometry).Elem(), path)
	}
	for _, path := range geometry.Fields() {
		inFile(t, reflect.TypeOf(geometry).Elem(), path)
	}
}

// inFile checks that a struct of the file has a field at a path such as ".arm.radius".
func inFile(t *testing.T, of reflect.Type, path string) {
	t.Helper()
	for _, name := range strings.Split(path, ".")[1:] {
		found := false
		for i := range of.NumField() {
			if tag, _, _ := strings.Cut(of.Field(i).Tag.Get("json"), ","); tag == name {
				of, found = of.Field(i).Type, true
				break
			}
		}
		if !found {
			t.Errorf("the file has no field %s: %v has no %s", path, of, name)
			return
		}
	}
}

func move(t *testing.T, l linkage.Linkage, in float64) linkage.Motion {
	t.Helper()
	m, err := l.Move(in)
	if err != nil {
		t.Fatal(err)
	}
	return m
}
