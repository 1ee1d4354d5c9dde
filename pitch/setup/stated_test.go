package setup_test

import (
	"math"
	"testing"

	"example.org/levelhead/pitch"
	"example.org/levelhead/pitch/internal/rigtest"
	"example.org/levelhead/pitch/machine"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/units"
)

// Apart counts as each rotor turns. Of a machine and its mirror image, whose rotors turn
// opposite ways, it is zero, and yet blades at one bearing differ by a lot.
func TestApartIsAsEachRotorTurns(t *testing.T) {
	r := rigtest.Rig(t, rigtest.Read(t, rigtest.Demos+"direct.json"), rigtest.Stepless)
	opposite := rigtest.Rig(t, rigtest.Read(t, rigtest.Demos+"direct.json"), func(m *machine.Machine) { rigtest.Stepless(m); rigtest.Mirrored(m) })
	a, b := r.Modes()[0], opposite.Modes()[0]
	c := compare(t, a, b)
	forward := c.Cyclic[2]
	if got := forward.Difference.Apart.Degrees(); got > rigtest.TidyDegrees {
		t.Errorf("apart %v° of a mirror image", got)
	}
	at := func(added setup.AddedCyclic, bearing units.Angle) float64 {
		return added.Pitch.Degrees() * math.Cos(float64(bearing-added.Phase))
	}
	var most float64
	for k := range 36 {
		bearing := units.Angle(10*k) * units.Degree
		most = math.Max(most, math.Abs(at(forward.A, bearing)-at(forward.B, bearing)))
	}
	if most < 10 {
		t.Errorf("at one bearing they differ by no more than %v°", most)
	}
}

// The slope of a radio with pulse steps is near that of one without, and not the same.
func TestSlopeNextToPulseSteps(t *testing.T) {
	data := rigtest.Read(t, rigtest.Demos+"direct.json")
	stepped, smooth := rigtest.Rig(t, data, func(m *machine.Machine) { rigtest.Hover(m); m.Radio.PulseStep = 8 * units.PulseMicrosecond }), rigtest.Rig(t, data, func(m *machine.Machine) { rigtest.Hover(m); rigtest.Stepless(m) })
	c := compare(t, stepped.Modes()[0], smooth.Modes()[0])
	var most float64
	for _, row := range c.Rows {
		most = math.Max(most, math.Abs(float64(*row.A.Slope / *row.B.Slope)-1))
	}
	if most < 1e-5 || most > 0.01 {
		t.Errorf("the slopes differ by up to %.4f %%", 100*most)
	}
}

// The largest difference is that of the rows; between them it is up to a pulse step more.
func TestLargestIsOfTheRows(t *testing.T) {
	const coarsest = 0.13 // degree: what a pulse step of 2 µs changes on flybar.json
	var most float64
	for name, r := range rigtest.Rigs(t, func(*machine.Machine) {}) {
		a, b := r.Modes()[0], r.Modes()[1]
		largest := compare(t, a, b).Largest
		read := func(s setup.Setup, stick float64) float64 {
			d, err := s.Setting().Demand(pitch.Stick{Collective: stick})
			if err != nil {
				t.Fatal(err)
			}
			p, _, err := r.Head().Blade(r.Head().Control.NewState(), r.Gauge().Bearing, d)
			if err != nil {
				t.Fatal(err)
			}
			return p.Degrees()
		}
		const positions = 2000
		for k := range positions + 1 {
			stick := float64(k) / positions
			more := math.Abs(read(b, stick)-read(a, stick)) - math.Abs(largest.Pitch.Degrees())
			if most = math.Max(most, more); more > coarsest {
				t.Errorf("%s, stick %v: %.3f° more than the largest", name, stick, more)
			}
		}
	}
	if most < 0.001 {
		t.Errorf("nowhere more than in the rows: %v°", most)
	}
}
