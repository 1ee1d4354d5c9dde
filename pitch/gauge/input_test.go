package gauge

import (
	"errors"
	"math"
	"strings"
	"testing"

	"example.org/levelhead/pitch"
	"example.org/levelhead/units"
)

// A reading that cannot be one is refused, with which, what and by how much.
func TestReadingErrors(t *testing.T) {
	b := sessionOf(t, "direct")
	nan := units.Angle(math.NaN())
	sound := Reading{Point: Point{Mode: "hover", Stick: pitch.Stick{Collective: 0.5}}}
	for _, c := range []struct {
		field, reason string
		change        func(*Reading)
	}{
		{"Value", "not a finite angle", func(r *Reading) { r.Value = nan }},
		{"Value", "not a finite angle", func(r *Reading) { r.Value = units.Angle(math.Inf(-1)) }},
		{"Value", "by 1.5°", func(r *Reading) { r.Value = -16.5 * units.Degree }},
		{"Mode", `"cruise" is not a mode of this machine; write "hover", "aerobatic" or "glide, throttle held"`, func(r *Reading) { r.Mode = "cruise" }},
		{"Blade", "must be from 1 to 2, not 3", func(r *Reading) { r.Blade = 2 }},
		{"Blade", "must be from 1 to 2, not 0", func(r *Reading) { r.Blade = -1 }},
		{"Bearing", "must be an angle clockwise from the nose, such as 180°, not NaN", func(r *Reading) { r.Bearing = &nan }},
		{"Servo", "must be from 1 to 3, not 4", func(r *Reading) { r.Of, r.Servo = ArmAngle, 3 }},
		{"Of", "must be from 0 to 3, not 9", func(r *Reading) { r.Of = 9 }},
		{"Gauge", `"rule" is not among those of this session`, func(r *Reading) { r.Gauge = "rule" }},
		{"Gauge", `"level" does not measure blade pitch`, func(r *Reading) { r.Gauge = "level" }},
		{"Stick.Collective", "1.1", func(r *Reading) { r.Stick.Collective = 1.1 }},
		{"Stick.Right", "NaN", func(r *Reading) { r.Stick.Right = math.NaN() }},
		{"Stick.Forward", "-2", func(r *Reading) { r.Stick.Forward = -2 }},
	} {
		wrong := sound
		c.change(&wrong)
		_, err := b.Fit([]Reading{sound, wrong})
		var reading *ReadingError
		if !errors.As(err, &reading) || reading.Index != 1 || reading.What.Field != c.field || !strings.Contains(reading.What.Reason, c.reason) {
			t.Errorf("wanted field %q and reason %q: %v", c.field, c.reason, err)
		}
		var spec *units.FieldError
		if r, err := b.Fit(nil); err != nil {
			t.Fatal(err)
		} else if _, err = r.Predict(wrong.Point); c.field != "Value" && c.field != "Gauge" && !errors.As(err, &spec) {
			t.Errorf("prediction with %s: %v", c.field, err)
		}
	}
	var spec *units.FieldError
	if _, err := b.Fit(make([]Reading, MaxReadings+1)); !errors.As(err, &spec) {
		t.Errorf("too many readings: %v", err)
	}
}

// A session that cannot be is refused.
func TestSessionErrors(t *testing.T) {
	rig := rigOf(t, "direct")
	nan := math.NaN()
	for _, c := range []struct {
		field  string
		blades int
		change func(*Tolerances, *Instrument)
	}{
		{"blades", 0, func(*Tolerances, *Instrument) {}},
		{"blades", 13, func(*Tolerances, *Instrument) {}},
		{"tolerances.ServoLink", 2, func(t *Tolerances, _ *Instrument) { t.ServoLink = units.Length(nan) }},
		{"tolerances.ServoTravel", 2, func(t *Tolerances, _ *Instrument) { t.ServoTravel = -0.1 }},
		{"tolerances.HubHeight", 2, func(t *Tolerances, _ *Instrument) { t.HubHeight = 1 * units.Metre }},
		{"tolerances", 2, func(t *Tolerances, g *Instrument) { *t, g.Zero = Tolerances{}, 0 }},
		{"gauges[0].Step", 2, func(_ *Tolerances, g *Instrument) { g.Step, g.Repeat = 0, 0 }},
		{"gauges[0].Repeat", 2, func(_ *Tolerances, g *Instrument) { g.Repeat = units.Angle(nan) }},
		{"gauges[0].Zero", 2, func(_ *Tolerances, g *Instrument) { g.Zero = -1 }},
		{"gauges[0].High", 2, func(_ *Tolerances, g *Instrument) { g.High = g.Low }},
		{"gauges[0].Name", 2, func(_ *Tolerances, g *Instrument) { g.Name = " " }},
		{"gauges[0].Measures", 2, func(_ *Tolerances, g *Instrument) { g.Measures = []Quantity{7} }},
	} {
		tolerances, gauge := DefaultTolerances(), PitchGauge(rig)
		c.change(&tolerances, &gauge)
		_, err := NewSession(rig, c.blades, tolerances, gauge)
		var spec *units.FieldError
		if !errors.As(err, &spec) || spec.Field != c.field {
			t.Errorf("wanted an error of %q: %v", c.field, err)
		}
	}
	var spec *units.FieldError
	if _, err := NewSession(nil, 2, DefaultTolerances()); !errors.As(err, &spec) {
		t.Errorf("no rig: %v", err)
	}
	if _, err := NewSession(rig, 2, DefaultTolerances(), PitchGauge(rig), PitchGauge(rig)); !errors.As(err, &spec) {
		t.Errorf("two gauges of one name: %v", err)
	}
}

// Names are those of the machine file.
func TestNames(t *testing.T) {
	for name, want := range map[string][]string{
		"direct":     {"front servo centre", "left rear servo link", "blade 2 pitch horn radius", "pitch gauge zero", "hub height"},
		"bellcranks": {"collective servo travel", "collective, second link", "forward cyclic link", "blade 1 pitch link"},
	} {
		b := sessionOf(t, name)
		have := map[string]bool{}
		for _, p := range b.Parameters() {
			have[b.Name(p)] = true
		}
		for _, w := range want {
			if !have[w] {
				t.Errorf("%s: no parameter is named %q", name, w)
			}
		}
		if n := len(have); n != len(b.Parameters()) {
			t.Errorf("%s: %d names for %d parameters", name, n, len(b.Parameters()))
		}
	}
}

// FuzzFit: whatever is read on whatever machine, the fit is finite or an error of this
// package's.
func FuzzFit(f *testing.F) {
	sessions := make([]*Session, len(machines))
	for i, name := range machines {
		sessions[i] = sessionOf(f, name)
	}
	f.Add(uint8(0), []byte{0, 0, 0, 128, 128, 128, 10, 0, 1, 0, 255, 128, 128, 200})
	f.Add(uint8(1), []byte{1, 0, 0, 128, 0, 128, 10, 2, 1, 0, 255, 128, 255, 90, 3, 2, 1, 0, 0, 0, 0})
	f.Add(uint8(2), []byte{0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16, 17, 18, 19, 20})
	f.Fuzz(func(t *testing.T, machine uint8, data []byte) {
		b := sessions[int(machine)%len(sessions)]
		var readings []Reading
		for ; len(data) >= 7 && len(readings) < 16; data = data[7:] {
			stick := func(x byte) float64 { return (float64(x) - 128) / 127 }
			readings = append(readings, Reading{
				Point: Point{
					Of: Quantity(data[0] % 5), Blade: int(data[1] % 3), Servo: int(data[1] % 4),
					Mode:  b.model.rig.Modes()[int(data[2])%len(b.model.rig.Modes())].Name(),
					Stick: pitch.Stick{Collective: float64(data[3]) / 255, Right: stick(data[4]), Forward: stick(data[5])},
				},
				Value: units.Angle(stick(data[6])) * 12 * units.Degree,
			})
		}
		r, err := b.Fit(readings)
		if err != nil {
			var reading *ReadingError
			var misfit *MisfitError
			if !errors.As(err, &reading) && !errors.As(err, &misfit) {
				t.Fatalf("unknown error %v", err)
			}
			return
		}
		for _, e := range r.Parameters {
			if !(math.Abs(e.Off) < 50*e.Tolerance) || !(e.Sigma > 0 && e.Sigma <= e.Tolerance*(1+1e-9)) || !(e.Known >= 0 && e.Known <= 1) {
				t.Fatalf("%+v", e)
			}
		}
		for _, fitted := range r.Readings {
			if !units.Finite(fitted.Shown) || math.IsNaN(fitted.Student) {
				t.Fatalf("%+v", fitted)
			}
		}
	})
}
