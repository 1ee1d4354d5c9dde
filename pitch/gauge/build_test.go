package gauge

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/diff/fd"
	"pgregory.net/rapid"

	"example.org/levelhead/pitch"
	"example.org/levelhead/pitch/internal/rigtest"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/units"
)

// machines are the demonstration machines, one of each type.
var machines = []string{"direct", "bellcranks", "fourservos", "flybar", "spatial"}

func rigOf(t testing.TB, name string) *setup.Rig {
	t.Helper()
	return rigtest.Build(t, rigtest.Read(t, rigtest.Demos+name+".json"))
}

func buildOf(t testing.TB, name string, blades int) *build {
	t.Helper()
	tolerances := DefaultTolerances()
	m := newModel(rigOf(t, name), blades, &tolerances, []float64{float64(0.3 * units.Degree)})
	b, err := m.newBuild()
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// The build that the file says is the rig: the same pitch, to the last bit.
func TestBuildOfTheFile(t *testing.T) {
	for _, name := range machines {
		b := buildOf(t, name, 2)
		rig := b.model.rig
		for _, mode := range rig.Modes() {
			for _, at := range sticks {
				demand, err := mode.Setting().Demand(at)
				if err != nil {
					t.Fatal(err)
				}
				want, _, err := rig.Head().Blade(rig.Head().Control.NewState(), 1, demand)
				if err != nil {
					t.Fatal(err)
				}
				p, err := b.model.position(mode, at)
				if err != nil {
					t.Fatal(err)
				}
				if err := b.stand(p); err != nil {
					t.Fatal(err)
				}
				// The arm is summed in another order than servo.Servo sums it.
				const rounding = 1e-13 // rad
				if got, err := b.value(&sight{of: BladePitch, blade: 1, bearing: 1}); err != nil || math.Abs(float64(got-want)) > rounding {
					t.Errorf("%s, mode %s, %v: the build gives %v, the rig %v (%v)", name, mode.Name(), at, got, want, err)
				}
			}
		}
	}
}

// sticks are some positions of the sticks.
var sticks = []pitch.Stick{{}, {Collective: 0.25}, {Collective: 0.5}, {Collective: 1}, {Collective: 0.5, Right: 1}, {Collective: 0.6, Right: -0.3, Forward: 0.8}}

// The derivatives of every quantity over every part are those of central differences,
// at any build within three tolerances, at any position of the sticks.
func TestSlopes(t *testing.T) {
	for _, name := range machines {
		b := buildOf(t, name, 2)
		m := b.model
		// Central differences of steps of a thousandth of a tolerance, or about 1e-6
		// rad, are off by some 1e-9 of the pitch for a tolerance, from rounding.
		const tolerance = 1e-7
		t.Run(name, rapid.MakeCheck(func(t *rapid.T) {
			mode := rapid.IntRange(0, len(m.rig.Modes())-1).Draw(t, "mode")
			at := pitch.Stick{
				Collective: rapid.Float64Range(0, 1).Draw(t, "collective"),
				Right:      rapid.Float64Range(-1, 1).Draw(t, "right"),
				Forward:    rapid.Float64Range(-1, 1).Draw(t, "forward"),
			}
			s := &sight{
				of:      Quantity(rapid.IntRange(0, int(ArmAngle)).Draw(t, "quantity")),
				blade:   rapid.IntRange(0, 1).Draw(t, "blade"),
				bearing: units.Angle(rapid.Float64Range(-4, 4).Draw(t, "bearing")),
				servo:   rapid.IntRange(0, len(b.arms)-1).Draw(t, "servo"),
			}
			position, err := m.position(m.rig.Modes()[mode], at)
			if err != nil {
				t.Fatal(err)
			}
			scaled := make([]float64, len(m.params)) // parts over their tolerances
			for i := range scaled {
				scaled[i] = rapid.Float64Range(-3, 3).Draw(t, m.params[i].String())
			}
			x := make([]float64, len(m.params))
			value := func(scaled []float64) float64 {
				for i := range x {
					x[i] = scaled[i] * m.sd[i]
				}
				if err := b.set(x); err != nil {
					t.Fatal(err)
				}
				if err := b.stand(position); err != nil {
					t.Fatal(err)
				}
				v, err := b.value(s)
				if err != nil {
					t.Fatal(err)
				}
				return float64(v)
			}
			want := fd.Gradient(nil, value, scaled, &fd.Settings{Formula: fd.Central, Step: 1e-3})
			value(scaled)
			if err := b.effects(); err != nil {
				t.Fatal(err)
			}
			got := make([]float64, len(x))
			if _, err := b.slope(got, s); err != nil {
				t.Fatal(err)
			}
			var size float64
			for i := range want {
				size = math.Max(size, math.Abs(want[i]))
			}
			for i, p := range m.params {
				if d := got[i]*m.sd[i] - want[i]; math.Abs(d) > tolerance*math.Max(size, 1e-3) {
					t.Errorf("%v over %v: %.9g, by differences %.9g", s.of, p, got[i]*m.sd[i], want[i])
				}
			}
		}))
	}
}

// A build is what its parts put together by package setup are: also bell cranks, whose
// links are fitted here.
func TestBuildOfParts(t *testing.T) {
	chance := rand.New(rand.NewPCG(1, 2))
	for _, name := range machines {
		b := buildOf(t, name, 1)
		m := b.model
		for range 20 {
			x := make([]float64, len(m.params))
			for j, sd := range m.sd {
				if k := m.params[j].Kind; k != LowEnd && k != HighEnd && k != GaugeZero { // not sizes
					x[j] = 2 * sd * chance.NormFloat64()
				}
			}
			if err := b.set(x); err != nil {
				t.Fatal(err)
			}
			parts := m.rig.Parts()
			for i, l := range parts.Links() {
				parts.SetLink(i, l.Length+units.Length(m.of(ServoLink, x)[i]))
			}
			for i := range parts.Plate.Legs {
				parts.Plate.Legs[i].Arm.Radius += units.Length(m.of(ArmRadius, x)[i])
			}
			for i := range parts.Servos {
				parts.Servos[i].Mount += units.Angle(m.of(ServoCentre, x)[i])
				parts.Servos[i].Travel *= units.Angle(1 + m.of(ServoTravel, x)[i])
			}
			parts.Grip.HubHeight += units.Length(m.of(HubHeight, x)[0])
			parts.Grip.Link += units.Length(m.of(PitchLink, x)[0])
			parts.Grip.Horn += units.Length(m.of(HornRadius, x)[0])
			head, err := parts.Head()
			if err != nil {
				t.Fatal(err)
			}
			at := pitch.Stick{Collective: chance.Float64(), Right: chance.Float64() - 0.5, Forward: chance.Float64() - 0.5}
			demand, err := m.rig.Modes()[0].Setting().Demand(at)
			if err != nil {
				t.Fatal(err)
			}
			want, pose, err := head.Blade(head.Control.NewState(), 1, demand)
			if err != nil {
				t.Fatal(err)
			}
			position, err := m.position(m.rig.Modes()[0], at)
			if err != nil {
				t.Fatal(err)
			}
			if err := b.stand(position); err != nil {
				t.Fatal(err)
			}
			const rounding = 1e-12 // rad
			if got, err := b.value(&sight{bearing: 1}); err != nil || math.Abs(float64(got-want)) > rounding {
				t.Errorf("%s: the build gives %v, its parts %v (%v)", name, got, want, err)
			}
			// And back from the pose to the arms.
			arms := make([]units.Angle, len(b.arms))
			if err := b.mechanism.Arms(arms, pose); err != nil {
				t.Fatal(err)
			}
			for i := range arms {
				if len(arms) == 3 && math.Abs(float64(arms[i]-b.arms[i])) > rounding {
					t.Errorf("%s: arm %d of the pose is %v, it stands at %v", name, i, arms[i], b.arms[i])
				}
			}
		}
	}
}

// A clipped pulse does not follow the end points, but its arm still follows its
// centre and gain.
func TestClipped(t *testing.T) {
	b := buildOf(t, "direct", 1)
	servos := b.spec.Servos
	servo := servos[0]
	servo.Max = servo.Neutral + servo.Throw/2
	if s := sentBy(&servo, 1); s.perHigh != 0 || s.perLow != 0 || math.Abs(s.turn-float64(servo.Travel/2)) > 1e-15 {
		t.Errorf("clipped: %+v", s)
	}
	if s := sentBy(&servo, 0.25); s.perHigh != 0.25*float64(servo.Travel) || s.perLow != 0 {
		t.Errorf("not clipped: %+v", s)
	}
	servo.Reverse = true
	if s := sentBy(&servo, 0.25); s.perLow != -0.25*float64(servo.Travel) || s.perHigh != 0 {
		t.Errorf("reversed: %+v", s)
	}
}

func BenchmarkSet(b *testing.B) {
	for _, name := range machines {
		b.Run(name, func(b *testing.B) {
			build := buildOf(b, name, 2)
			b.ReportAllocs()
			x := make([]float64, len(build.x))
			for b.Loop() {
				x[0] = 1e-6 - x[0]
				if err := build.set(x); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func BenchmarkPitch(b *testing.B) {
	for _, name := range machines {
		b.Run(name, func(b *testing.B) {
			build := buildOf(b, name, 2)
			p, err := build.model.position(build.model.rig.Modes()[0], sticks[5])
			if err != nil {
				b.Fatal(err)
			}
			b.ReportAllocs()
			for b.Loop() {
				if err := build.stand(p); err != nil {
					b.Fatal(err)
				}
				for blade := range 2 {
					if _, err := build.value(&sight{blade: blade, bearing: 1}); err != nil {
						b.Fatal(err)
					}
				}
			}
		})
	}
}
