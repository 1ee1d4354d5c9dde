package machine_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"strings"
	"testing"

	"example.org/levelhead/pitch/internal/rigtest"
	"example.org/levelhead/pitch/machine"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/pitch/sheet"
	"example.org/levelhead/units"
	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
)

// Limits that a file does not give are the default ones.
func TestLimitsGivenInPart(t *testing.T) {
	data := bytes.Replace(rigtest.Read(t, rigtest.Demos+"direct.json"), []byte(`"mass"`), []byte(`"limits": {"tilt": "1°", "tip_speed": "100 m/s"}, "mass"`), 1)
	want := machine.DefaultLimits()
	want.Tilt, want.TipSpeed = 1*units.Degree, 100
	if got := rigtest.Build(t, data).Limits(); got != want {
		t.Errorf("%+v, want %+v", got, want)
	}
}

// What is read, written and read again is the same machine, loads and all.
func TestRoundTripOfLoads(t *testing.T) {
	for _, name := range []string{"direct.json", "flybar.json"} {
		m := rigtest.Parse(t, rigtest.Read(t, rigtest.Demos+name))
		data, err := json.Marshal(m)
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(m, rigtest.Parse(t, data), cmpopts.IgnoreUnexported(machine.Machine{})); diff != "" {
			t.Error(diff)
		}
	}
}

// What is read, written and read again is the same machine.
func TestRoundTrip(t *testing.T) {
	m := rigtest.Parse(t, rigtest.Full(t))
	data, err := json.Marshal(m)
	if err != nil {
		t.Fatal(err)
	}
	again := rigtest.Parse(t, data)
	if diff := cmp.Diff(m, again, cmpopts.IgnoreUnexported(machine.Machine{})); diff != "" {
		t.Error(diff)
	}
}

func TestRefusesWhatIsNotJSON(t *testing.T) {
	for _, text := range []string{"", "{", "[]", "null", `"a"`, "{} {}", `{"name": }`, "{\"name\": \"\x00\"}",
		strings.Repeat("[", 100), strings.Repeat(`{"a":`, 100)} {
		var f *machine.FieldError
		if _, err := machine.Parse([]byte(text)); !errors.As(err, &f) {
			t.Errorf("%q: %v", text, err)
		}
	}
}

func FuzzParse(f *testing.F) {
	f.Add(rigtest.Full(f))
	for _, name := range []string{"bellcranks", "fourservos", "flybar"} {
		f.Add(rigtest.Read(f, rigtest.Demos+name+".json"))
	}
	f.Add([]byte(`{"name": "a", "plate": {"legs": [{}]}}`))
	f.Add([]byte(`[[[[`))
	f.Fuzz(func(t *testing.T, data []byte) {
		m, err := machine.Parse(data)
		if err != nil {
			var field *machine.FieldError
			if !errors.As(err, &field) {
				t.Fatalf("untyped error: %v", err)
			}
			return
		}
		r, err := setup.Build(m)
		if err != nil {
			t.Fatalf("parsed but does not build: %v", err)
		}
		if len(m.Modes) > 4 || len(m.Plate.Legs) > 6 {
			return // only slow
		}
		if s, err := sheet.Of(r); err == nil {
			if _, err := json.Marshal(s); err != nil {
				t.Fatalf("sheet does not marshal: %v", err)
			}
		}
	})
}

// A file that is empty, or does not begin as one must, says so and not what follows from it.
func TestBeginning(t *testing.T) {
	for text, want := range map[string]string{
		"":          "machine file: the file is empty; copy an example file",
		" \n\t\r\n": "machine file: the file is empty; copy an example file",
		"\ufeff\n":  "machine file: the file is empty; copy an example file",
		strings.TrimLeft(string(rigtest.Full(t)), "{ \r\n"): "machine file, line 1: the file must begin with {; line 1 has none",
		"\n\n[]": "machine file, line 3: the file must begin with {; line 3 has none",
	} {
		if _, err := machine.Parse([]byte(text)); err == nil || err.Error() != want {
			t.Errorf("%.20q: %v, want %s", text, err, want)
		}
	}
}

// A byte order mark changes nothing, not even lines.
func TestByteOrderMark(t *testing.T) {
	mark := []byte("\ufeff")
	marked := rigtest.Parse(t, append(mark, rigtest.Full(t)...))
	if diff := cmp.Diff(rigtest.Parse(t, rigtest.Full(t)), marked, cmpopts.IgnoreUnexported(machine.Machine{})); diff != "" {
		t.Error(diff)
	}
	broken := rigtest.Changed(t, `"travel": "36°"`, `"travel": "much"`)
	var field *machine.FieldError
	if _, err := machine.Parse(append(mark, broken...)); !errors.As(err, &field) || field.Line != rigtest.LineOf(broken, `"much"`) {
		t.Errorf("line: %v", err)
	}
}

// A fault in a field that is not in the file is at the line of what would hold it.
func TestLineOfWhatIsNotThere(t *testing.T) {
	var indented bytes.Buffer // each field on a line of its own
	if err := json.Indent(&indented, rigtest.Full(t), "", " "); err != nil {
		t.Fatal(err)
	}
	var rows struct {
		Radio struct {
			MixRows json.RawMessage `json:"mix_rows"`
		}
	}
	if err := json.Unmarshal(indented.Bytes(), &rows); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ old, new, path, at string }{
		// Missing at all.
		{`"neutral_height": "60 mm",`, ``, "plate.neutral_height", `"plate": {`},
		{`"raises_on": "longer",`, ``, "plate.legs[0].servo.raises_on", `"servo": {`},
		{`"spline_teeth": 25,`, ``, "servos.bench digital.spline_teeth", `"bench digital": {`},
		{`"rotation": "clockwise",`, ``, "head.rotation", `"head": {`},
		// Left out, and what stands in for it does not do.
		{`,
  "mix_rows": ` + string(rows.Radio.MixRows), ``, "radio.mix_rows", `"radio": {`},
	} {
		if !bytes.Contains(indented.Bytes(), []byte(c.old)) {
			t.Fatalf("no %q", c.old)
		}
		data := bytes.Replace(indented.Bytes(), []byte(c.old), []byte(c.new), 1)
		var field *machine.FieldError
		if _, err := rigtest.Open(data); !errors.As(err, &field) || field.Path != c.path || field.Line != rigtest.LineOf(data, c.at) {
			t.Errorf("%v, want %s in line %d", err, c.path, rigtest.LineOf(data, c.at))
		}
	}
}
