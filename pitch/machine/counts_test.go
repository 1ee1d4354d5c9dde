package machine_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"strings"
	"testing"

	"example.org/levelhead/pitch/internal/rigtest"
	"example.org/levelhead/pitch/machine"
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
		set            func(m *machine.Machine, n int)
	}{
		{"direct", "modes", "", machine.MaxModes, func(m *machine.Machine, n int) {
			for len(m.Modes) < n {
				m.Modes = append(m.Modes, m.Modes[0])
				m.Modes[len(m.Modes)-1].Name = fmt.Sprint("mode ", len(m.Modes))
			}
		}},
		{"fourservos", "plate.legs", "", machine.MaxLegs, func(m *machine.Machine, n int) {
			leg := m.Plate.Legs[0]
			m.Plate.Legs = nil
			for i := range n {
				upright := *leg.Upright
				upright.Bearing = units.Angle(i) * 360 * units.Degree / units.Angle(n)
				leg.Name, leg.Upright = fmt.Sprint("leg ", i), &upright
				m.Plate.Legs = append(m.Plate.Legs, leg)
			}
		}},
		{"bellcranks", "plate.bell_cranks.forward.chain", "", machine.MaxChain, func(m *machine.Machine, n int) {
			ratio, chain := 1.0, &m.Plate.BellCranks.Forward.Chain
			for len(*chain) < n {
				*chain = append([]machine.Member{{Lever: &machine.Lever{Ratio: &ratio}}}, *chain...)
			}
		}},
		{"direct", "servos", "", machine.MaxServoTypes, func(m *machine.Machine, n int) {
			for i := range n - len(m.Servos) {
				m.Servos[fmt.Sprint("type ", i)] = m.Servos["bench digital"]
			}
		}},
		{"direct", "servos.bench digital.arm_holes", "", machine.MaxArmHoles, func(m *machine.Machine, n int) {
			kind := m.Servos["bench digital"]
			for kind.ArmHoles = nil; len(kind.ArmHoles) < n; {
				kind.ArmHoles = append(kind.ArmHoles, units.Length(len(kind.ArmHoles)+8)*units.Millimetre)
			}
			m.Servos["bench digital"] = kind
		}},
		{"direct", "modes[0].throttle.points", "", machine.MaxPoints, func(m *machine.Machine, n int) { m.Modes[0].Throttle.Points = points(n) }},
		{"direct", "modes[0].pitch.points", "", machine.MaxPoints, func(m *machine.Machine, n int) { m.Modes[0].Pitch.Points = points(n) }},
		{"direct", "modes[1].targets.collective", "", machine.MaxPoints, func(m *machine.Machine, n int) {
			targets := m.Modes[1].Targets
			targets.Collective = nil
			for _, p := range points(n) {
				targets.Collective = append(targets.Collective, machine.Target{Stick: p[0], Pitch: units.Angle(p[0]-0.5) * 18 * units.Degree})
			}
		}},
		{"direct", "name", "characters", machine.MaxName, func(m *machine.Machine, n int) { m.Name = strings.Repeat("é", n) }},
		{"direct", "plate.legs[2].name", "characters", machine.MaxName, func(m *machine.Machine, n int) { m.Plate.Legs[2].Name = strings.Repeat("é", n) }},
		{"direct", "modes[1].name", "characters", machine.MaxName, func(m *machine.Machine, n int) { m.Modes[1].Name = strings.Repeat("é", n) }},
	} {
		made := func(n int) *machine.Machine {
			m := rigtest.Build(t, rigtest.Read(t, rigtest.Demos+tt.file+".json")).Machine()
			tt.set(m, n)
			return m
		}
		if _, err := setup.Build(made(tt.most)); err != nil {
			t.Errorf("%s: %d are refused: %v", tt.path, tt.most, err)
		}
		over := made(tt.most + 1)
		data, err := json.MarshalIndent(over, "", " ")
		if err != nil {
			t.Fatal(err)
		}
		_, parsed := machine.Parse(data)
		_, built := setup.Build(over)
		for _, err := range []error{parsed, built} {
			var field *machine.FieldError
			var count *machine.CountError
			if !errors.As(err, &field) || !errors.As(err, &count) || field.Path != tt.path || *count != (machine.CountError{Of: tt.of, Count: tt.most + 1, Most: tt.most}) ||
				!strings.Contains(err.Error(), fmt.Sprintf("%d ", tt.most+1)) || !strings.Contains(err.Error(), fmt.Sprintf("at most %d", tt.most)) {
				t.Errorf("%s, %d: %v", tt.path, tt.most+1, err)
			}
		}
		var field *machine.FieldError
		if key := tt.path[strings.LastIndex(tt.path, ".")+1:]; errors.As(parsed, &field) && strings.Count(string(data), `"`+key+`"`) == 1 && field.Line != rigtest.LineOf(data, `"`+key+`"`) {
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
		want machine.CountError
	}{
		{"{\"name\":\n\"" + strings.Repeat("é", machine.MaxText+1) + "\"}", 2, machine.CountError{Of: "characters in a text", Count: machine.MaxText + 1, Most: machine.MaxText}},
		{"{\"name\":\n\n" + long(5000) + "}", 3, machine.CountError{Of: "characters in a number", Count: 5000, Most: machine.MaxText}},
		{"{\"servos\": {\n\"" + long(machine.MaxName+1) + "\": {}}}", 2, machine.CountError{Of: "characters in a field's name", Count: machine.MaxName + 1, Most: machine.MaxName}},
		{strings.Repeat(" ", machine.MaxFile) + "{", 0, machine.CountError{Of: "bytes", Count: machine.MaxFile + 1, Most: machine.MaxFile}},
	} {
		var field *machine.FieldError
		var count *machine.CountError
		_, err := machine.Parse([]byte(tt.data))
		if !errors.As(err, &field) || !errors.As(err, &count) || field.Line != tt.line || *count != tt.want || len(err.Error()) > 200 {
			t.Errorf("%v; want %v on line %d", err, &tt.want, tt.line)
		}
	}
	_, err := machine.Parse([]byte("{\"name\":\n\"" + strings.Repeat("é", machine.MaxText) + "\"}"))
	if errors.As(err, new(*machine.CountError)) {
		t.Errorf("a text of %d characters: %v", machine.MaxText, err)
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
		var field *machine.FieldError
		if _, err := machine.Parse(many(60000, first)); !errors.As(err, &field) || field.Line != 2 || field.Reason != fmt.Sprintf("field %q is given twice; remove one", first) {
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
				if _, err := machine.Parse(data); err == nil {
					b.Fatal("a field is given twice")
				}
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*n), "ns/field")
		})
	}
}
