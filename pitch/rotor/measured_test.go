package rotor

import (
	"math"
	"strings"
	"testing"

	"example.org/levelhead/units"
)

// The rotors of this file were measured. The tests hold the model to the errors
// that the package doc and testdata/README.md state: they are what they are, and
// no number of the model was adjusted to them.

// knightHefner is a rotor of NACA TN 626, with the report's own section.
func knightHefner(blades int, loss TipLoss) Spec {
	return Spec{
		Blades:  blades,
		Radius:  30 * units.Inch,
		Cutout:  5 * units.Inch,
		Chord:   2 * units.Inch,
		Section: NACA0015(),
		TipLoss: loss,
	}
}

// band gathers relative errors.
type band struct{ lo, hi, sum, n float64 }

func (b *band) add(got, want float64) {
	e := got/want - 1
	if b.n == 0 {
		b.lo, b.hi = e, e
	}
	b.lo, b.hi, b.sum, b.n = min(b.lo, e), max(b.hi, e), b.sum+math.Abs(e), b.n+1
}

// check fails unless the band is the one stated, in per cent to one decimal.
func (b *band) check(t *testing.T, what string, lo, hi float64) {
	t.Helper()
	const rounding = 0.05
	t.Logf("%s: %+.1f %% to %+.1f %%, mean size %.1f %%, %v points", what, 100*b.lo, 100*b.hi, 100*b.sum/b.n, b.n)
	if !(math.Abs(100*b.lo-lo) <= rounding && math.Abs(100*b.hi-hi) <= rounding) {
		t.Errorf("%s: errors from %+.2f %% to %+.2f %%, stated %+.1f to %+.1f", what, 100*b.lo, 100*b.hi, lo, hi)
	}
}

func TestKnightHefner(t *testing.T) {
	const computed = 0.001 // the same equations on another program's annuli
	var thrust6, thrust4, torque6, torque4, effThrust, effTorque band
	for _, r := range table(t, "knight_hefner") {
		blades, degrees := int(r.number("blades")), r.number("theta_deg")
		c := coefficients(t, build(t, knightHefner(blades, Prandtl)), degrees)
		near(t, "computed CT", c.Thrust, r.number("CT_bemt_prandtl"), computed+5e-7/(c.Thrust+1e-9))
		near(t, "computed CQ", c.Torque, r.number("CQ_bemt_prandtl"), computed+5e-7/c.Torque)
		near(t, "modern CT", r.number("CT_report")/2, r.number("CT_modern"), 1e-12)

		eff := coefficients(t, build(t, knightHefner(blades, EffectiveRadius)), degrees)
		if degrees >= 6 {
			thrust6.add(c.Thrust, r.number("CT_modern"))
			torque6.add(c.Torque, r.number("CQ_modern"))
			effThrust.add(eff.Thrust, r.number("CT_modern"))
			effTorque.add(eff.Torque, r.number("CQ_modern"))
		}
		if degrees >= 4 {
			thrust4.add(c.Thrust, r.number("CT_modern"))
			torque4.add(c.Torque, r.number("CQ_modern"))
		}
	}
	thrust6.check(t, "Prandtl, thrust from 6°", -3.3, 13.0)
	torque6.check(t, "Prandtl, torque from 6°", -6.2, 9.9)
	thrust4.check(t, "Prandtl, thrust from 4°", -3.3, 19.4)
	torque4.check(t, "Prandtl, torque from 4°", -6.2, 19.9)
	effThrust.check(t, "effective radius, thrust from 6°", -9.8, 3.6)
	effTorque.check(t, "effective radius, torque from 6°", -15.2, 1.8)
}

func TestCastlesGray(t *testing.T) {
	slope := map[string]float64{}
	for _, r := range table(t, "castles_gray_lift_slope") {
		slope[r.text("rpm")+" "+r.text("diameter_ft")] = r.number("lift_slope_per_rad")
	}
	var eff, loss, torque band
	for _, r := range table(t, "castles_gray") {
		if r.text("planform") != "constant chord" || r.number("theta_0.75R_deg") == 0 {
			continue
		}
		d := r.number("diameter_ft")
		s := NACA0015()
		s.LiftSlope = slope[r.text("rpm")+" "+r.text("diameter_ft")]
		spec := Spec{
			Blades:  3,
			Radius:  units.Length(d/2) * units.Foot,
			Chord:   map[float64]units.Length{6: 1.89, 4: 1.26}[d] * units.Inch,
			Section: s,
			TipLoss: EffectiveRadius,
		}
		degrees := r.number("theta_0.75R_deg")
		// The report's own procedure has no cut-out.
		c := coefficients(t, build(t, spec), degrees)
		withinOf(t, "computed CT", c.Thrust, r.number("CT_eqA27_computed"), 1e-5)

		spec.TipLoss, spec.Cutout = Prandtl, 6.09*units.Inch
		full := build(t, spec)
		p := coefficients(t, full, degrees)
		if degrees < 3.9 {
			withinOf(t, "measured CT", c.Thrust, r.number("CT"), 0.00025)
			continue
		}
		eff.add(c.Thrust, r.number("CT"))
		loss.add(p.Thrust, r.number("CT"))
		if dcq := r.number("dCQ"); !math.IsNaN(dcq) {
			torque.add(p.Torque-coefficients(t, full, 0).Torque, dcq)
		}
	}
	eff.check(t, "effective radius, thrust from 3.9°", -14.6, 10.5)
	loss.check(t, "Prandtl, thrust from 3.9°", -9.8, 17.0)
	torque.check(t, "Prandtl, torque over that without thrust from 3.9°", -10.6, 54.8)
}

func TestCaradonnaTung(t *testing.T) {
	spec := Spec{Blades: 2, Radius: 1.143 * units.Metre, Chord: 0.1905 * units.Metre, Section: linear(5.73)}
	const computed = 2e-5 // five printed digits, and the other program's annuli
	var loss, eff band
	for _, r := range table(t, "caradonna_tung") {
		degrees := r.number("collective_deg")
		// With and without cut-out, as the columns were computed.
		spec.TipLoss, spec.Cutout = Prandtl, spec.Radius/6
		p := coefficients(t, build(t, spec), degrees)
		spec.TipLoss, spec.Cutout = EffectiveRadius, 0
		e := coefficients(t, build(t, spec), degrees)
		spec.TipLoss = NoTipLoss
		n := coefficients(t, build(t, spec), degrees)
		withinOf(t, "computed CT, Prandtl", p.Thrust, r.number("CT_bemt_prandtl"), computed)
		withinOf(t, "computed CT, effective radius", e.Thrust, r.number("CT_bemt_Re"), computed)
		withinOf(t, "computed CT, no loss", n.Thrust, r.number("CT_bemt_no_loss"), computed)
		loss.add(p.Thrust, r.number("CT_measured"))
		eff.add(e.Thrust, r.number("CT_measured"))
	}
	loss.check(t, "Prandtl, thrust", 18.6, 44.4)
	eff.check(t, "effective radius, thrust", -4.5, 14.4)
}

func TestHarrington(t *testing.T) {
	// Radius 12.5 ft. The chords follow from the solidities; those of the tapered
	// rotor's at 0.75 R from chord at the axis = 2.92 that at the tip.
	rotor2 := Spec{Blades: 2, Radius: 12.5 * units.Foot, Section: NACA0015()}
	rotor2.Chord = units.Length(0.076*math.Pi/2) * rotor2.Radius
	rotor1 := rotor2
	rotor1.Chord, rotor1.Taper = units.Length(0.027*math.Pi/2)*rotor1.Radius, 2.92
	var untapered, tapered band
	for _, r := range table(t, "harrington") {
		spec, b := rotor1, &tapered
		if strings.HasPrefix(r.text("rotor"), "rotor 2") {
			spec, b = rotor2, &untapered
		}
		at := Condition{Speed: units.AngularSpeed(130 / float64(spec.Radius)), Density: 1.225}
		rotor := build(t, spec)
		unit := float64(rotor.scale(Coefficients{Thrust: 1}, at).Thrust)
		_, loads, err := rotor.PitchFor(units.Force(r.number("CT")*unit), at)
		if err != nil {
			t.Fatal(err)
		}
		b.add(loads.Coefficients.Torque, r.number("CQ"))
	}
	untapered.check(t, "rotor 2, torque at the thrust", -2.2, 4.1)
	tapered.check(t, "rotor 1, torque at the thrust", 3.4, 19.2)
}
