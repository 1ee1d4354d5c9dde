package rotor

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"

	"example.org/levelhead/units"
)

func testBlade() Blade {
	return Blade{Chordwise: 5.4e-5, Thickness: 7.776e-7, Spring: 0.5}
}

func testRotor(t testing.TB) *Rotor {
	return build(t, Spec{
		Blades:  2,
		Radius:  0.7 * units.Metre,
		Cutout:  0.12 * units.Metre,
		Chord:   60 * units.Millimetre,
		Section: NACA0015(),
	})
}

func seaLevel(rpm float64) Condition {
	return Condition{Speed: units.AngularSpeed(rpm) * units.RevolutionPerMinute, Density: 1.225}
}

// TestPointMasses holds the moment of a section without symmetry to that of its
// masses, each pulled outward along the plane of rotation.
func TestPointMasses(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		const speed = 180
		// Grams, micrometres and microradians: no number near the smallest float64.
		draw := func(name string, unit float64, lo, hi int) float64 {
			return unit * float64(rapid.IntRange(lo, hi).Draw(t, name))
		}
		pitch := draw("pitch", 1e-6, -5e5, 5e5)
		sin, cos := math.Sincos(pitch)
		var b Blade
		var want float64
		for range 3 {
			m := draw("mass", 1e-3, 0, 100)
			forward := draw("ahead of the axis", 1e-6, -3e4, 3e4)
			up := draw("above the axis", 1e-6, -1e4, 1e4)
			b.Chordwise += units.Inertia(m * forward * forward)
			b.Thickness += units.Inertia(m * up * up)
			b.Product += units.Inertia(m * forward * up)
			// In the hub's frame: along the plane of rotation and above it. The part
			// of the centrifugal force along the plane is m speed² times the first.
			along, above := forward*cos-up*sin, forward*sin+up*cos
			want -= m * speed * speed * along * above
		}
		got := float64(b.FlatteningMoment(units.Angle(pitch), units.AngularSpeed(speed)))
		if math.Abs(got-want) > 1e-13*speed*speed*float64(b.Chordwise+b.Thickness) {
			t.Fatalf("moment %v, want %v", got, want)
		}
	})
}

// TestFeatheringParts holds the Fourier parts of the moments to those worked out
// by hand for small pitch, and the spring and the flattening at any.
func TestFeatheringParts(t *testing.T) {
	r, b, at := testRotor(t), testBlade(), seaLevel(2000)
	p := Pitch{Collective: 8 * units.Degree, Cosine: 3 * units.Degree, Sine: -2 * units.Degree}
	f, err := r.Feathering(b, p, at)
	if err != nil {
		t.Fatal(err)
	}
	if f.Aerodynamic != (Moment{}) {
		t.Errorf("lift on the axis has the moment %+v", f.Aerodynamic)
	}
	for i := range 12 {
		psi := units.Angle(i) * 30 * units.Degree
		// sin cos of a sum of harmonics has second ones too: below this share.
		const second = 0.012
		withinOf(t, "flattening", float64(f.Flattening.At(psi)), float64(b.FlatteningMoment(p.At(psi), at.Speed)), second)
		near(t, "spring", float64(f.Spring.At(psi)), -0.5*float64(p.At(psi)), 1e-13)
	}
	// Bessel: the mean of sin(2 (a + c cos psi)) is sin 2a J0(2c), its part with
	// cos psi 2 cos 2a J1(2c). (M. Abramowitz and I. A. Stegun, 9.1.42-45.)
	c := math.Hypot(float64(p.Cosine), float64(p.Sine))
	scale := -float64(at.Speed*at.Speed) * float64(b.Chordwise-b.Thickness) / 2
	sin, cos := math.Sincos(2 * float64(p.Collective))
	near(t, "collective", float64(f.Flattening.Collective), scale*sin*math.J0(2*c), 1e-13)
	near(t, "cosine", float64(f.Flattening.Cosine), scale*2*cos*math.J1(2*c)*float64(p.Cosine)/c, 1e-13)
	near(t, "sine", float64(f.Flattening.Sine), scale*2*cos*math.J1(2*c)*float64(p.Sine)/c, 1e-13)
}

// TestFlatBladeFollows: a thin blade at no collective pitch swings in pitch with
// its own plane of rotation, and needs no moment for it.
func TestFlatBladeFollows(t *testing.T) {
	const tilt = 1e-4 // rad, small so that sin cos is the angle to 1e-8
	f, err := testRotor(t).Feathering(Blade{Chordwise: 5e-5}, Pitch{Cosine: tilt, Sine: -2 * tilt}, seaLevel(2000))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "inertial cosine", float64(f.Inertial.Cosine), -float64(f.Flattening.Cosine), 1e-6)
	near(t, "inertial sine", float64(f.Inertial.Sine), -float64(f.Flattening.Sine), 1e-6)
}

// TestAerodynamicMoment: lift ahead of the axis raises the leading edge; its arm is
// the distance to the quarter chord.
func TestAerodynamicMoment(t *testing.T) {
	spec := testRotor(t).Spec()
	spec.Axis = 0.35
	at := seaLevel(1800)
	r := build(t, spec)
	loads, err := r.Loads(8*units.Degree, at)
	if err != nil {
		t.Fatal(err)
	}
	want := float64(loads.Thrust) / 2 * 0.1 * float64(spec.Chord)
	near(t, "moment of the lift", float64(loads.Feathering), want, 1e-12)
	f, err := r.Feathering(Blade{}, Pitch{Collective: 8 * units.Degree}, at)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "collective part", float64(f.Aerodynamic.Collective), want, 1e-12)

	// A section's own moment: density/2 chord² moment times the sum of (speed r)².
	spec.Axis, spec.Section.Moment = 0.25, -0.02
	loads, err = build(t, spec).Loads(8*units.Degree, at)
	if err != nil {
		t.Fatal(err)
	}
	cube := math.Pow(0.7, 3) - math.Pow(0.12, 3)
	want = -0.02 * 1.225 / 2 * math.Pow(0.06, 2) * math.Pow(float64(at.Speed), 2) * cube / 3
	near(t, "moment of the section", float64(loads.Feathering), want, 1e-12)
}

// headSlopes is a head whose blade pitch is perMetre × (height + radius × the rise of
// the ring at phase ahead of the blade), by small angles.
func headSlopes(perMetre, radius, phase float64) func(units.Angle) (Slopes, error) {
	return func(psi units.Angle) (Slopes, error) {
		sin, cos := math.Sincos(float64(psi) + phase)
		return Slopes{Height: perMetre, Right: -perMetre * radius * sin, Forward: -perMetre * radius * cos}, nil
	}
}

// TestVirtualWork: over any small change of the plate's pose the load does the work
// of the moments over the change of pitch.
func TestVirtualWork(t *testing.T) {
	r := testRotor(t)
	rapid.Check(t, func(t *rapid.T) {
		draw := func(name string) float64 { return rapid.Float64Range(-1, 1).Draw(t, name) }
		m := Moment{units.Torque(draw("collective")), units.Torque(draw("cosine")), units.Torque(draw("sine"))}
		slopes := headSlopes(10, 0.02, draw("phase"))
		h, right, forward := draw("height"), draw("right"), draw("forward")
		psi := units.Angle(draw("bearing"))
		work := func(psi units.Angle) float64 {
			s, _ := slopes(psi)
			return float64(m.At(psi)) * (s.Height*h + s.Right*right + s.Forward*forward)
		}
		load, err := r.PlateLoad(m, psi, slopes)
		if err != nil {
			t.Fatal(err)
		}
		of := func(l PlateLoad) float64 {
			return float64(l.Force)*h + float64(l.Right)*right + float64(l.Forward)*forward
		}
		const rounding = 1e-13
		if want := work(psi) + work(psi+math.Pi); math.Abs(of(load)-want) > rounding*20 {
			t.Fatalf("work %v, want %v", of(load), want)
		}
		// Two blades have the mean over a turn where the moments have one harmonic.
		mean, err := r.MeanPlateLoad(m, slopes)
		if err != nil {
			t.Fatal(err)
		}
		var want float64
		for i := range 100 {
			want += 2 * work(units.Angle(2*math.Pi*float64(i)/100)) / 100
		}
		if math.Abs(of(mean)-want) > rounding*20 {
			t.Fatalf("mean work %v, want %v", of(mean), want)
		}
	})
}

// TestPlateLoadSigns: blades that pull themselves flat at positive pitch push the
// plate down where the plate's rise raises the pitch, and cyclic moments tilt it.
func TestPlateLoadSigns(t *testing.T) {
	r := testRotor(t)
	l, err := r.MeanPlateLoad(Moment{Collective: -0.4}, headSlopes(20, 0.03, 0))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "force", float64(l.Force), -0.4*20*2, 1e-13)
	withinOf(t, "right", float64(l.Right), 0, 1e-13)
	// A moment that is greatest, leading edge up, over the nose pulls the ring up
	// there: it works against forward tilt.
	l, err = r.MeanPlateLoad(Moment{Cosine: 0.1}, headSlopes(20, 0.03, 0))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "forward", float64(l.Forward), -0.1*20*0.03, 1e-13)
	withinOf(t, "force", float64(l.Force), 0, 1e-13)

	broken := errors.New("no pitch here")
	if _, err := r.MeanPlateLoad(Moment{}, func(units.Angle) (Slopes, error) { return Slopes{}, broken }); err != broken {
		t.Errorf("error %v", err)
	}
	if _, err := r.PlateLoad(Moment{}, 0, func(units.Angle) (Slopes, error) { return Slopes{Right: math.NaN()}, nil }); err == nil {
		t.Error("a slope that is NaN is taken")
	}
}
