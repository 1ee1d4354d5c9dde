package setup_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"strings"
	"testing"

	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/units"
)

// As many of everything as a machine file may hold are answered, and one more is refused
// with its field, its line, the count and the most, whether a file or a program gives it.
func TestCounts(t *testing.T) {
	points := func(n int) (points [][2]units.Ratio) {
		for i := range n {
			points = append(points, [2]units.Ratio{units.Ratio(i) / units.Ratio(n-1), 0})
		}
		return points
	}
	for _, tt := range []struct {
		file, path, of string
		most           int
		set            func(m *setup.Machine, n int)
	}{
		{"direct", "modes", "", setup.MaxModes, func(m *setup.Machine, n int) {
			for len(m.Modes) < n {
				m.Modes = append(m.Modes, m.Modes[0])
				m.Modes[len(m.Modes)-1].Name = fmt.Sprint("mode ", len(m.Modes))
			}
		}},
		{"fourservos", "plate.legs", "", setup.MaxLegs, func(m *setup.Machine, n int) {
			leg := m.Plate.Legs[0]
			m.Plate.Legs = nil
			for i := range n {
				upright := *leg.Upright
				upright.Bearing = units.Angle(i) * 360 * units.Degree / units.Angle(n)
				leg.Name, leg.Upright = fmt.Sprint("leg ", i), &upright
				m.Plate.Legs = append(m.Plate.Legs, leg)
			}
		}},
		{"bellcranks", "plate.bell_cranks.forward.chain", "", setup.MaxChain, func(m *setup.Machine, n int) {
			ratio, chain := 1.0, &m.Plate.BellCranks.Forward.Chain
			for len(*chain) < n {
				*chain = append([]setup.Member{{Lever: &setup.Lever{Ratio: &ratio}}}, *chain...)
			}
		}},
		{"direct", "servos", "", setup.MaxServoTypes, func(m *setup.Machine, n int) {
			for i := range n - len(m.Servos) {
				m.Servos[fmt.Sprint("type ", i)] = m.Servos["bench digital"]
			}
		}},
		{"direct", "servos.bench digital.arm_holes", "", setup.MaxArmHoles, func(m *setup.Machine, n int) {
			kind := m.Servos["bench digital"]
			for kind.ArmHoles = nil; len(kind.ArmHoles) < n; {
				kind.ArmHoles = append(kind.ArmHoles, units.Length(len(kind.ArmHoles)+8)*units.Millimetre)
			}
			m.Servos["bench digital"] = kind
		}},
		{"direct", "modes[0].throttle.points", "", setup.MaxPoints, func(m *setup.Machine, n int) { m.Modes[0].Throttle.Points = points(n) }},
		{"direct", "modes[0].pitch.points", "", setup.MaxPoints, func(m *setup.Machine, n int) { m.Modes[0].Pitch.Points = points(n) }},
		{"direct", "modes[1].targets.collective", "", setup.MaxPoints, func(m *setup.Machine, n int) {
			targets := m.Modes[1].Targets
			targets.Collective = nil
			for _, p := range points(n) {
				targets.Collective = append(targets.Collective, setup.Target{Stick: p[0], Pitch: units.Angle(p[0]-0.5) * 18 * units.Degree})
			}
		}},
		{"direct", "name", "characters", setup.MaxName, func(m *setup.Machine, n int) { m.Name = strings.Repeat("é", n) }},
		{"direct", "plate.legs[2].name", "characters", setup.MaxName, func(m *setup.Machine, n int) { m.Plate.Legs[2].Name = strings.Repeat("é", n) }},
		{"direct", "modes[1].name", "characters", setup.MaxName, func(m *setup.Machine, n int) { m.Modes[1].Name = strings.Repeat("é", n) }},
	} {
		machine := func(n int) *setup.Machine {
			m := build(t, read(t, demos+tt.file+".json")).Machine
			tt.set(m, n)
			return m
		}
		if _, err := machine(tt.most).Build(); err != nil {
			t.Errorf("%s: %d are refused: %v", tt.path, tt.most, err)
		}
		over := machine(tt.most + 1)
		data, err := json.MarshalIndent(over, "", " ")
		if err != nil {
			t.Fatal(err)
		}
		_, parsed := setup.Parse(data)
		_, built := over.Build()
		for _, err := range []error{parsed, built} {
			var field *setup.FieldError
			var count *setup.CountError
			if !errors.As(err, &field) || !errors.As(err, &count) || field.Path != tt.path || *count != (setup.CountError{Of: tt.of, Count: tt.most + 1, Most: tt.most}) ||
				!strings.Contains(err.Error(), fmt.Sprintf("%d ", tt.most+1)) || !strings.Contains(err.Error(), fmt.Sprintf("at most %d", tt.most)) {
				t.Errorf("%s, %d: %v", tt.path, tt.most+1, err)
			}
		}
		var field *setup.FieldError
		if key := tt.path[strings.LastIndex(tt.path, ".")+1:]; errors.As(parsed, &field) && strings.Count(string(data), `"`+key+`"`) == 1 && field.Line != lineOf(data, `"`+key+`"`) {
			t.Errorf("%s: line %d", tt.path, field.Line)
		}
	}
}

// Texts, numbers and names that are too long are refused before anything is done with them,
// and so are whole files.
func TestTooLong(t *testing.T) {
	long := func(n int) string { return strings.Repeat("9", n) }
	for _, tt := range []struct {
		data string
		line int
		want setup.CountError
	}{
		{"{\"name\":\n\"" + strings.Repeat("é", setup.MaxText+1) + "\"}", 2, setup.CountError{Of: "characters in a text", Count: setup.MaxText + 1, Most: setup.MaxText}},
		{"{\"name\":\n\n" + long(5000) + "}", 3, setup.CountError{Of: "characters in a number", Count: 5000, Most: setup.MaxText}},
		{"{\"servos\": {\n\"" + long(setup.MaxName+1) + "\": {}}}", 2, setup.CountError{Of: "characters in a field's name", Count: setup.MaxName + 1, Most: setup.MaxName}},
		{strings.Repeat(" ", setup.MaxFile) + "{", 0, setup.CountError{Of: "bytes", Count: setup.MaxFile + 1, Most: setup.MaxFile}},
	} {
		var field *setup.FieldError
		var count *setup.CountError
		_, err := setup.Parse([]byte(tt.data))
		if !errors.As(err, &field) || !errors.As(err, &count) || field.Line != tt.line || *count != tt.want || len(err.Error()) > 200 {
			t.Errorf("%v; want %v on line %d", err, &tt.want, tt.line)
		}
	}
	_, err := setup.Parse([]byte("{\"name\":\n\"" + strings.Repeat("é", setup.MaxText) + "\"}"))
	if errors.As(err, new(*setup.CountError)) {
		t.Errorf("a text of %d characters: %v", setup.MaxText, err)
	}
}

// many is a file with n fields, the last of them on a line of its own.
func many(n int, last string) []byte {
	var b strings.Builder
	b.WriteString("{")
	for i := range n {
		fmt.Fprintf(&b, "\"%x\":1,", i)
	}
	fmt.Fprintf(&b, "\n%q:1}", last)
	return []byte(b.String())
}

// A field that is given twice is found among as many as a file can hold.
func TestTwiceAmongMany(t *testing.T) {
	for _, first := range []string{"0", "ea5f"} {
		var field *setup.FieldError
		if _, err := setup.Parse(many(60000, first)); !errors.As(err, &field) || field.Line != 2 || field.Reason != fmt.Sprintf("field %q is given twice; remove one", first) {
			t.Errorf("%v", err)
		}
	}
}

// The time that a field takes does not grow with their number.
func BenchmarkManyFields(b *testing.B) {
	for _, n := range []int{1000, 10000, 60000} {
		data := many(n, "0")
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			for b.Loop() {
				if _, err := setup.Parse(data); err == nil {
					b.Fatal("a field is given twice")
				}
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*n), "ns/field")
		})
	}
}
