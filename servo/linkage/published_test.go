package linkage_test

import (
	"fmt"
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"

	"example.org/levelhead/servo/linkage"
	"example.org/levelhead/units"
)

// How near a result must come to the computed columns of the tables, which have
// 15 digits.
const (
	tableAngle  = 1e-10 // degrees
	tableLength = 1e-12 // metres, of lengths below 1 m
	tableSlope  = 1e-12 // relative to the larger of the slope and 1
)

func newArmToArm(t testing.TB, spec linkage.ArmsSpec) *linkage.ArmToArm {
	t.Helper()
	l, err := linkage.NewArmToArm(spec)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

func newArmToLine(t testing.TB, spec linkage.LineSpec) *linkage.ArmToLine {
	t.Helper()
	l, err := linkage.NewArmToLine(spec)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

func move(t testing.TB, l linkage.Linkage, in float64) linkage.Motion {
	t.Helper()
	m, err := l.Move(in)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// near reports a number that is further than tolerance from the one expected.
func near(t testing.TB, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s: %.17g, want %.17g: off by %.3g, allowed %.3g", what, got, want, got-want, tolerance)
	}
}

func slopeTolerance(want float64) float64 { return tableSlope * math.Max(1, math.Abs(want)) }

// The rocker angles of R. L. Norton, Design of Machinery, Example 4-1 and Table
// P4-1 row a, on both branches, from memory; and the exact ones, computed from the
// loop closure by another program: testdata/fourbar.csv.
func TestFourBarNorton(t *testing.T) {
	const book = 0.05 // degree: half a unit of the last digit that the book prints
	// The book's answers, which also choose the branch.
	remembered := map[string]float64{"40 open": 57.3, "40 crossed": -98.0, "30 open": 117.3, "30 crossed": -143.6}
	for _, row := range readTable(t, "fourbar.csv") {
		name := row["theta2_deg"] + " " + row["branch"]
		length := func(column string) units.Length {
			return units.Length(value(t, row, column)) * units.Millimetre
		}
		neutral := units.Angle(remembered[name]) * units.Degree
		l := newArmToArm(t, linkage.FourBar(length("a"), length("b"), length("c"), length("d"),
			units.Angle(value(t, row, "theta2_deg"))*units.Degree, neutral))
		m := move(t, l, 0)
		got := (neutral + units.Angle(m.Out)).Degrees()
		// The last remembered answer is cut rather than rounded: the computed
		// angle is -143.66°.
		bookTolerance := book
		if name == "30 crossed" {
			bookTolerance = 2 * book
		}
		near(t, name+", rocker in the book", got, remembered[name], bookTolerance)
		near(t, name+", rocker", got, value(t, row, "theta4_deg_exact"), tableAngle)
		ratio := value(t, row, "dth4_dth2")
		near(t, name+", velocity ratio", m.Slope, ratio, slopeTolerance(ratio))
		if name == "40 open" {
			// Example 6-7, from memory: 25 rad/s gives 6.998 rad/s.
			near(t, "rocker speed", 25*m.Slope, 6.998, 5e-4)
		}
	}
}

// Four-bar synthesis by F. Freudenstein's equation, for five pairs of angles of a
// published exercise: testdata/freudenstein.csv. The constants come out of a least
// squares solver, and the linkage that they describe then misses the five angles
// by what the equation's residuals say.
func TestFreudenstein(t *testing.T) {
	const tolerance = 1e-10 // of the constants, of order 1, which the solver loses four digits of
	want := map[string]float64{}
	for _, row := range readTable(t, "freudenstein.csv") {
		want[row["quantity"]] = value(t, row, "value")
	}
	theta := []units.Angle{40 * units.Degree, 45 * units.Degree, 50 * units.Degree, 55 * units.Degree, 60 * units.Degree}
	phi := []units.Angle{70 * units.Degree, 76 * units.Degree, 83 * units.Degree, 91 * units.Degree, 100 * units.Degree}
	cos := func(a units.Angle) float64 { return math.Cos(float64(a)) }

	a, b := mat.NewDense(len(theta), 3, nil), mat.NewVecDense(len(theta), nil)
	for i := range theta {
		a.SetRow(i, []float64{cos(phi[i]), -cos(theta[i]), 1})
		b.SetVec(i, cos(theta[i]-phi[i]))
	}
	var qr mat.QR
	qr.Factorize(a)
	var k mat.VecDense
	if err := qr.SolveVecTo(&k, false, b); err != nil {
		t.Fatal(err)
	}
	k1, k2, k3 := k.AtVec(0), k.AtVec(1), k.AtVec(2)
	near(t, "K1", k1, want["K1=d/a"], tolerance)
	near(t, "K2", k2, want["K2=d/c"], tolerance)
	near(t, "K3", k3, want["K3=(a^2-b^2+c^2+d^2)/(2ac)"], tolerance)

	ground := want["d_mm"]
	crank, rocker := ground/k1, ground/k2
	coupler := math.Sqrt(crank*crank + rocker*rocker + ground*ground - 2*crank*rocker*k3)
	near(t, "crank in mm", crank, want["a_mm"], 1000*tolerance)
	near(t, "coupler in mm", coupler, want["b_mm"], 1000*tolerance)
	near(t, "rocker in mm", rocker, want["c_mm"], 1000*tolerance)

	const mid = 2 // the pair taken as neutral
	l := newArmToArm(t, linkage.FourBar(
		units.Length(crank)*units.Millimetre, units.Length(coupler)*units.Millimetre,
		units.Length(rocker)*units.Millimetre, units.Length(ground)*units.Millimetre, theta[mid], phi[mid]))
	for i := range theta {
		equation := func(out units.Angle) float64 {
			return k1*cos(out) - k2*cos(theta[i]) + k3 - cos(theta[i]-out)
		}
		name := fmt.Sprintf("at %.0f°", theta[i].Degrees())
		got := phi[mid] + units.Angle(move(t, l, float64(theta[i]-theta[mid])).Out)
		near(t, name+", the equation of the linkage", equation(got), 0, 1e-14) // a few times the rounding of its terms
		residual := want[fmt.Sprintf("residual_%.0f", theta[i].Degrees())]
		near(t, name+", its residual", equation(phi[i]), residual, tolerance)
		// The miss is the residual over the equation's derivative, to first order;
		// its second derivative is at most K1 + 1.
		derivative := -k1*math.Sin(float64(got)) - math.Sin(float64(theta[i]-got))
		miss := float64(phi[i] - got)
		near(t, name+", the miss in rad", miss, residual/derivative, (k1+1)/2*miss*miss/math.Abs(derivative)+tolerance)
	}
}

// The spatial slider-crank of E. J. Haug, Computer Aided Kinematics and Dynamics
// of Mechanical Systems (1989), section 12.2: a crank turning across the slider's
// line. testdata/slider_crank_haug.csv tells what was published.
func TestSpatialSliderCrankHaug(t *testing.T) {
	const drawn = 0.2 // where the slider is drawn, m
	rows := readTable(t, "slider_crank_haug.csv")
	moved := 0
	for _, neutral := range rows {
		from := units.Angle(value(t, neutral, "crank_deg_from_y")) * units.Degree
		sin, cos := math.Sincos(float64(from))
		l := newArmToLine(t, linkage.LineSpec{
			Arm: linkage.ArmSpec{
				Shaft:   linkage.Point{Y: 0.1, Z: 0.12},
				Axis:    linkage.Direction{X: 1},
				Neutral: linkage.Direction{Y: cos, Z: sin},
				Radius:  0.08,
				Link:    0.3,
			},
			Ball:  linkage.Point{X: drawn},
			Along: linkage.Direction{X: 1},
		})
		for _, row := range rows {
			angle := units.Angle(value(t, row, "crank_deg_from_y")) * units.Degree
			in := float64(angle - from)
			if !l.Travel().Holds(in) {
				continue
			}
			moved++
			m := move(t, l, in)
			name := fmt.Sprintf("crank at %.0f° from neutral at %.0f°", angle.Degrees(), from.Degrees())
			near(t, name+", slider", drawn+m.Out, value(t, row, "slider_x"), tableLength)
			slope := value(t, row, "dx_dtheta_m_per_rad")
			near(t, name+", slope", m.Slope, slope, slopeTolerance(slope))
			if angle == 90*units.Degree {
				near(t, name+", published slider", drawn+m.Out, 0.2, tableLength)
				near(t, name+", published speed", 2*math.Pi*m.Slope, 0.2513, 5e-5) // half a unit of its last digit
			}
		}
	}
	if moved < 3*len(rows) {
		t.Errorf("only %d motions: the travels are too short", moved)
	}
}

// The spatial four-bar of Haug (1989), section 12.3: a wheel and a rocker with
// shafts square to each other. testdata/rssr_haug.csv tells what was published.
func TestSpatialFourBarHaug(t *testing.T) {
	const (
		published = 1e-8 // twice half a unit of the last digit printed, for the values are doubled
		rocker    = 7.4
	)
	rows := readTable(t, "rssr_haug.csv")
	for _, branch := range []string{"psi_deg", "psi_other_branch_deg"} {
		moved := 0
		for _, neutral := range rows {
			from := units.Angle(value(t, neutral, "phi_deg")) * units.Degree
			drawn := units.Angle(math.Round(value(t, neutral, branch))) * units.Degree
			sinPhi, cosPhi := math.Sincos(float64(from))
			sinPsi, cosPsi := math.Sincos(float64(drawn))
			l := newArmToArm(t, linkage.ArmsSpec{
				Driving: linkage.ArmSpec{
					Axis:    linkage.Direction{X: 1},
					Neutral: linkage.Direction{Y: -sinPhi, Z: cosPhi},
					Radius:  2,
					Link:    12.2,
				},
				Driven: linkage.ArmSpec{
					Shaft:   linkage.Point{X: -4, Y: -8.5},
					Axis:    linkage.Direction{Y: -1},
					Neutral: linkage.Direction{X: cosPsi, Z: sinPsi},
					Radius:  rocker,
				},
			})
			for _, row := range rows {
				angle := units.Angle(value(t, row, "phi_deg")) * units.Degree
				in := float64(angle - from)
				if !l.Travel().Holds(in) {
					continue
				}
				moved++
				m := move(t, l, in)
				psi := drawn + units.Angle(m.Out)
				name := fmt.Sprintf("wheel at %.0f° from neutral at %.0f°", angle.Degrees(), from.Degrees())
				near(t, name+", "+branch, psi.Degrees(), value(t, row, branch), tableAngle)
				if branch != "psi_deg" {
					continue
				}
				slope := value(t, row, "dpsi_dphi")
				near(t, name+", slope", m.Slope, slope, slopeTolerance(slope))
				if angle == 0 {
					sin, cos := math.Sincos(float64(psi))
					near(t, name+", published x", -4+rocker*cos, -7.49111544, published)
					near(t, name+", published z", rocker*sin, 6.52473088, published)
					speed := math.Pi * m.Slope
					near(t, name+", published speed along x", -rocker*sin*speed, -10.53369504, published)
					near(t, name+", published speed along z", rocker*cos*speed, -5.63614746, published)
				}
			}
		}
		if moved < 3*len(rows) {
			t.Errorf("%s: only %d motions: the travels are too short", branch, moved)
		}
	}
}
