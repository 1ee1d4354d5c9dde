package rotor

import (
	"fmt"
	"math"
	"testing"

	"gonum.org/v1/gonum/integrate/quad"

	"example.org/levelhead/units"
)

func TestStandardAtmosphere(t *testing.T) {
	const (
		printed  = 5e-5 // five printed digits, of pressure and temperature as well
		computed = 1e-9 // ten printed digits
	)
	for _, r := range table(t, "atmosphere_geometric") {
		name := "at geometric " + r.text("z_m") + " m: "
		a, err := StandardAir(units.Length(r.number("z_m")))
		if err != nil {
			t.Error(err)
			continue
		}
		near(t, name+"temperature", float64(a.Temperature), r.number("T_calc"), computed)
		near(t, name+"pressure", float64(a.Pressure), r.number("p_calc"), computed)
		near(t, name+"density", float64(a.Density), r.number("rho_calc"), computed)
		if z := r.number("z_m"); z != 3000 { // printed for a geopotential height
			near(t, name+"density", float64(a.Density), r.number("rho_pub"), printed)
			near(t, name+"temperature", float64(a.Temperature), r.number("T_K_pub"), printed)
		}
	}
	for _, r := range table(t, "atmosphere_geopotential") {
		name := "at geopotential " + r.text("H_m") + " m: "
		a, err := StandardAirGeopotential(units.Length(r.number("H_m")))
		if err != nil {
			t.Error(err)
			continue
		}
		near(t, name+"temperature", float64(a.Temperature), r.number("T_K"), computed)
		near(t, name+"pressure", float64(a.Pressure), r.number("p_Pa"), computed)
		near(t, name+"density", float64(a.Density), r.number("rho_kg_m3"), computed)
	}
	// The printed density of the row that is by geopotential height.
	a, err := StandardAirGeopotential(3000 * units.Metre)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "density at geopotential 3000 m", float64(a.Density), 0.90912, printed)
}

func TestDryAir(t *testing.T) {
	const computed = 1e-10 // twelve printed digits
	for _, r := range table(t, "dry_air") {
		p := Pressure(r.number("p_hPa")) * Hectopascal
		a, err := DryAir(p, Celsius(r.number("T_C")))
		if err != nil {
			t.Fatal(err)
		}
		near(t, "density", float64(a.Density), r.number("rho_kg_m3"), computed)
		cold, err := DryAir(p, Celsius(-40))
		if err != nil {
			t.Fatal(err)
		}
		if b, err := cold.WithTemperature(Celsius(r.number("T_C"))); b != a || err != nil {
			t.Errorf("with its temperature measured, air at %v Pa is %v, %v, want %v", p, b, err, a)
		}
	}
}

// TestClosedForm holds thrust and induced power to NACA TN 2474, eq. A27.
func TestClosedForm(t *testing.T) {
	const closedForm = 1e-13 // fifteen printed digits, and 48 sums
	for _, r := range table(t, "blade_element_closed_form") {
		a := r.number("a")
		c := coefficients(t, build(t, simple(r.number("sigma"), linear(a), NoTipLoss)), r.number("theta_deg"))
		near(t, "CT", c.Thrust, r.number("CT_A27"), closedForm)
		near(t, "induced CP", c.Induced, r.number("CP_induced"), closedForm)
		near(t, "kappa", 1/c.FigureOfMerit(), r.number("kappa=CPi/ideal"), 1e-11)
		// The report's equation, evaluated here.
		s := a * r.number("sigma")
		x := 16 * r.number("theta_deg") * math.Pi / 180 / s
		want := s * s / 32 * (x/3 + 0.5 + ((1-3*x)*math.Pow(1+2*x, 1.5)-1)/(15*x*x))
		near(t, "CT by eq. A27", c.Thrust, want, 1e-10)
	}
}

// TestInflow holds the flow through one annulus to the closed form.
func TestInflow(t *testing.T) {
	for _, r := range table(t, "blade_element_closed_form") {
		n := annulus{x: 0.75, solidity: r.number("sigma"), lossScale: math.Inf(1)}
		s := linear(r.number("a"))
		e := n.solve(&s, r.number("theta_deg")*math.Pi/180, 0)
		near(t, "lambda(0.75)", e.flow, r.number("lambda(0.75)"), 1e-11)
	}
}

// TestClimb holds the thrust in climb to the closed inflow of blade elements,
// lambda = sqrt((k - climb)²/4 + k theta x) - (k - climb)/2 with k = solidity a/8,
// by a quadrature of its own. (J. G. Leishman, Principles of Helicopter
// Aerodynamics, from memory.)
func TestClimb(t *testing.T) {
	const (
		solidity, slope, theta = 0.06, 5.73, 0.15
		cutout                 = 0.3 // further in, a climb leaves no lift
		closedForm             = 1e-12
	)
	spec := simple(solidity, linear(slope), NoTipLoss)
	spec.Cutout = cutout * units.Metre
	r := build(t, spec)
	for _, climb := range []float64{0, 0.005, 0.02, 0.04} {
		c, err := r.Coefficients(theta, units.Ratio(climb))
		if err != nil {
			t.Fatal(err)
		}
		k := solidity * slope / 8
		want := quad.Fixed(func(x float64) float64 {
			lambda := math.Sqrt((k-climb)*(k-climb)/4+k*theta*x) - (k-climb)/2
			return solidity * slope / 2 * (theta*x*x - lambda*x)
		}, cutout, 1, 100, nil, 0)
		near(t, fmt.Sprintf("CT at climb %v", climb), c.Thrust, want, closedForm)
	}
}

func TestMomentum(t *testing.T) {
	const computed = 1e-11 // twelve printed digits
	for _, r := range table(t, "momentum_hover") {
		density := Density(1.225)
		if r.text("case") == "5.0 kg R 0.80 m hot day 1.1455" {
			density = 1.1455
		}
		thrust, radius := units.Force(r.number("T_N")), units.Length(math.Sqrt(r.number("A_m2")/math.Pi))
		v, err := InducedVelocity(thrust, radius, density, 0)
		if err != nil {
			t.Fatal(err)
		}
		near(t, r.text("case")+": induced", float64(v), r.number("v_i_m_s"), computed)
		p, err := IdealPower(thrust, radius, density, 0)
		if err != nil {
			t.Fatal(err)
		}
		near(t, r.text("case")+": power", p.Watts(), r.number("P_ideal_W"), computed)
	}
	for _, r := range table(t, "vertical_climb") {
		const loading = 170 // N/m²
		thrust := units.Force(loading * math.Pi * 8 * 8)
		hover, err := InducedVelocity(thrust, 8*units.Metre, 1.225, 0)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "hover", float64(hover), r.number("v_hover_m_s"), 1e-9)
		climb := units.Velocity(r.number("climb_m_s"))
		v, err := InducedVelocity(thrust, 8*units.Metre, 1.225, climb)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "in climb", float64(v), r.number("v_induced_m_s"), 1e-9)
		p, err := IdealPower(thrust, 8*units.Metre, 1.225, climb)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "power", p.Kilowatts(), 0.53*600, 1e-9)
	}
}

func TestFigureOfMerit(t *testing.T) {
	for _, r := range table(t, "figure_of_merit") {
		ct := r.number("CT")
		near(t, "CP ideal", ct*math.Sqrt(ct/2), r.number("CP_ideal"), 1e-11)
		near(t, "FM", figureOfMerit(ct, r.number("CP")), r.number("FM"), 1e-11)

		// Ideal twist has uniform inflow. Blade elements with that twist, one by one:
		s := linear(5.73)
		solidity := 6 * ct / 5.73 / (r.number("theta_const_deg")*math.Pi/180 - 1.5*math.Sqrt(ct/2))
		for _, x := range []float64{0.2, 0.5, 1} {
			n := annulus{x: x, solidity: solidity, lossScale: math.Inf(1)}
			e := n.solve(&s, r.number("theta_tip_ideal_deg")*math.Pi/180/x, 0)
			near(t, "flow at ideal twist", e.flow, math.Sqrt(ct/2), 1e-9)
		}
	}
	const read = 0.005 // three printed digits of FM, and 0.707 for 1/sqrt(2)
	for _, r := range table(t, "harrington") {
		near(t, "FM", figureOfMerit(r.number("CT"), r.number("CQ")), r.number("FM"), read)
	}
}

// TestPolar holds the default section's lift slope, drag and stall to the polar
// that it is named after.
func TestPolar(t *testing.T) {
	s := NACA0015()
	var n, sa, sc, saa, sac float64
	greatest := map[string]float64{}
	for _, r := range table(t, "knight_hefner_polar") {
		alpha, cl := r.number("alpha_deg")*math.Pi/180, r.number("CL")
		side := fmt.Sprint(r.text("position"), alpha > 0)
		greatest[side] = max(greatest[side], math.Abs(cl))
		if math.Abs(r.number("alpha_deg")) < 6 {
			n, sa, sc, saa, sac = n+1, sa+alpha, sc+cl, saa+alpha*alpha, sac+alpha*cl
		}
		if math.Abs(r.number("alpha_deg")) < 11 {
			// The greatest departure, by the report's own drag curve.
			withinOf(t, "drag at "+r.text("alpha_deg")+"°", s.drag(alpha), r.number("CD0"), 0.019)
			lift, _ := s.lift(alpha)
			withinOf(t, "lift at "+r.text("alpha_deg")+"°", lift, cl, 0.11)
		}
	}
	slope := (n*sac - sa*sc) / (n*saa - sa*sa)
	near(t, "least-squares slope", slope, s.LiftSlope, 0.003)
	var sum float64
	for _, g := range greatest {
		sum += g / 4
	}
	withinOf(t, "stall", s.StallLift, sum, 0.0005)
}

// TestFlatteningMoment holds the moment to computed numbers, and its square law to
// the one measured source.
func TestFlatteningMoment(t *testing.T) {
	const computed = 1e-12
	for _, r := range table(t, "flattening_moment") {
		m, c, th, x0 := r.number("m_kg"), r.number("c_m"), r.number("t_m"), r.number("x0_m")
		b := Blade{Chordwise: units.Inertia(m * (c*c/12 + x0*x0)), Thickness: units.Inertia(m * th * th / 12)}
		got := b.FlatteningMoment(units.Angle(r.number("theta_deg"))*units.Degree, units.AngularSpeed(r.number("rpm"))*units.RevolutionPerMinute)
		near(t, "moment", got.NewtonMetres(), r.number("M_Nm"), computed)
		near(t, "moment in kgf·cm", got.KilogramForceCentimetres(), r.number("M_kgfcm"), 1e-11) // twelve printed digits
	}
	for _, r := range table(t, "castles_gray_twist") {
		// A spring of 1 N·m/rad that the moment winds up: 1/k - 1 is the moment's
		// slope over the spring's. The inertia is that of the 1200 rpm reading.
		slow, fast := 1200*units.RevolutionPerMinute, 1600*units.RevolutionPerMinute
		b := Blade{Chordwise: units.Inertia((1/r.number("k_1200rpm") - 1) / float64(slow*slow))}
		const small = 1e-6 // rad
		measured := 1/r.number("k_1600rpm") - 1
		got := -float64(b.FlatteningMoment(small, fast)) / small
		// In the ratio of 16/9: the three digits of k, and 2 rpm in each speed.
		tolerance := 0.06
		switch r.text("rotor") {
		case "6 ft constant chord":
			tolerance = 0.02
		case "4 ft constant chord":
			tolerance = 0.075
		}
		near(t, r.text("rotor")+": 1/k-1 at 1600 rpm", got, measured, tolerance/r.number("Omega_ratio_squared"))
	}
}

func TestSymmetricBlade(t *testing.T) {
	for _, r := range table(t, "naca00xx") {
		thickness := map[string]float64{"NACA 0012": 0.12, "NACA 0015": 0.15}[r.text("section")]
		for column, axis := range map[string]units.Ratio{
			"k2_chord_about_centroid":      units.Ratio(r.number("x_centroid")),
			"k2_chord_about_quarter_chord": 0.25,
		} {
			b, err := SymmetricBlade(1*units.Kilogram, 1*units.Metre, units.Ratio(thickness), axis)
			if err != nil {
				t.Fatal(err)
			}
			near(t, column, float64(b.Chordwise), r.number(column), 1e-11)
			near(t, "k2_thickness", float64(b.Thickness), r.number("k2_thickness"), 1e-11)
		}
	}
	// The constants, by quadrature with x = s² to smooth the nose.
	half := func(x float64) float64 {
		return 5 * (0.2969*math.Sqrt(x) - 0.1260*x - 0.3516*x*x + 0.2843*x*x*x - 0.1015*x*x*x*x)
	}
	integral := func(f func(x, y float64) float64) float64 {
		return quad.Fixed(func(s float64) float64 { return f(s*s, half(s*s)) * 2 * s }, 0, 1, 40, nil, 0)
	}
	area := integral(func(x, y float64) float64 { return 2 * y })
	centroid := integral(func(x, y float64) float64 { return 2 * y * x }) / area
	near(t, "centroid", nacaCentroid, centroid, 1e-11)
	near(t, "chordwise", nacaChordwise, integral(func(x, y float64) float64 { return 2 * y * x * x })/area-centroid*centroid, 1e-11)
	near(t, "thickness", nacaThickness, integral(func(x, y float64) float64 { return 2 * y * y * y / 3 })/area, 1e-11)
}
