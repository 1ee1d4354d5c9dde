package network_test

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"example.org/levelhead/servo/linkage"
	"example.org/levelhead/servo/network"
	"example.org/levelhead/units"
)

func at(x, y, z float64) linkage.Point { return point([3]number{number(x), number(y), number(z)}) }

// fourBar is two cranks side by side in the plane y, z with a link between.
func fourBar() network.Spec {
	x := linkage.Direction{X: 1}
	return network.Spec{
		Bodies: []network.Body{
			{Name: "servo", Kind: network.Crank, Point: at(0, 0, 0), Axis: x, Input: true},
			{Name: "lever", Kind: network.Crank, Point: at(0, 40, 0), Axis: x},
		},
		Balls: []network.Ball{
			{Name: "arm", Body: "servo", At: at(0, 0, 15)},
			{Name: "end", Body: "lever", At: at(0, 40, 20)},
		},
		Links: []network.Link{{Name: "rod", A: "arm", B: "end"}},
	}
}

// with adds bodies, balls and links.
func with(s network.Spec, more network.Spec) network.Spec {
	return network.Spec{
		Bodies: append(slices.Clone(s.Bodies), more.Bodies...),
		Balls:  append(slices.Clone(s.Balls), more.Balls...),
		Links:  append(slices.Clone(s.Links), more.Links...),
	}
}

func TestRefusesDescriptions(t *testing.T) {
	nan := math.NaN()
	for name, c := range map[string]struct {
		edit  func(*network.Spec)
		field string
	}{
		"length of nothing": {func(s *network.Spec) { s.Links[0].Length = 1e-300 }, "Length"},
		"no name":           {func(s *network.Spec) { s.Bodies[1].Name = "" }, "Name"},
		"twice the same":    {func(s *network.Spec) { s.Bodies[1].Name = "servo" }, "Name"},
		"no kind":           {func(s *network.Spec) { s.Bodies[1].Kind = 0 }, "Kind"},
		"no axis":           {func(s *network.Spec) { s.Bodies[1].Axis = linkage.Direction{} }, "Axis"},
		"axis of NaN":       {func(s *network.Spec) { s.Bodies[1].Axis.X = nan }, "Axis.X"},
		"infinite point":    {func(s *network.Spec) { s.Bodies[1].Point.X = units.Length(math.Inf(1)) }, "Point.X"},
		"no carrier":        {func(s *network.Spec) { s.Bodies[1].On = "lid" }, "On"},
		"play below 0":      {func(s *network.Spec) { s.Bodies[1].Play = -1 }, "Play"},
		"plate on a lever": {func(s *network.Spec) {
			s.Bodies = append(s.Bodies, network.Body{Name: "p", Kind: network.Plate, On: "lever"})
		}, "On"},
		"ring on a lever": {func(s *network.Spec) {
			s.Bodies = append(s.Bodies, network.Body{Name: "r", Kind: network.Ring, On: "lever"})
		}, "On"},
		"mark of NaN": {func(s *network.Spec) {
			s.Bodies[1] = network.Body{Name: "lever", Kind: network.Plate, Mark: network.MarkAt(units.Angle(nan))}
		}, "Mark"},
		"infinite height": {func(s *network.Spec) {
			s.Bodies[1] = network.Body{Name: "lever", Kind: network.Plate, Height: units.Length(math.Inf(1))}
		}, "Height"},
		"ball without name":  {func(s *network.Spec) { s.Balls[1].Name = "" }, "Name"},
		"ball twice":         {func(s *network.Spec) { s.Balls[1].Name = "arm" }, "Name"},
		"ball on nothing":    {func(s *network.Spec) { s.Balls[1].Body = "lid" }, "Body"},
		"ball at NaN":        {func(s *network.Spec) { s.Balls[1].At.X = units.Length(nan) }, "At.X"},
		"ball's play of NaN": {func(s *network.Spec) { s.Balls[1].Play = units.Length(nan) }, "Play"},
		"link without name":  {func(s *network.Spec) { s.Links[0].Name = "" }, "Name"},
		"link twice":         {func(s *network.Spec) { s.Links = append(s.Links, s.Links[0]) }, "Name"},
		"link from nothing":  {func(s *network.Spec) { s.Links[0].A = "lid" }, "A"},
		"link to nothing":    {func(s *network.Spec) { s.Links[0].B = "lid" }, "B"},
		"length below 0":     {func(s *network.Spec) { s.Links[0].Length = -1 }, "Length"},
		"length of NaN":      {func(s *network.Spec) { s.Links[0].Length = units.Length(nan) }, "Length"},
		"one place":          {func(s *network.Spec) { s.Balls[1].At = s.Balls[0].At }, "A"},
		"one body":           {func(s *network.Spec) { s.Balls[1].Body = "servo" }, "A"},
		"inputs alone":       {func(s *network.Spec) { s.Bodies[1].Input = true }, "A"},
		"stiffness of NaN":   {func(s *network.Spec) { s.Links[0].Stiffness = units.Stiffness(nan) }, "Stiffness"},
	} {
		spec := fourBar()
		c.edit(&spec)
		var e *units.FieldError
		if _, err := network.New(spec); !errors.As(err, &e) || e.Field[strings.Index(e.Field, ".")+1:] != c.field {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func TestCarriersInACircle(t *testing.T) {
	spec := fourBar()
	spec.Bodies[0].On = "lever"
	spec.Bodies[1].On = "servo"
	var e *network.CarrierError
	if _, err := network.New(spec); !errors.As(err, &e) || !slices.Equal(e.Bodies, []string{"servo", "lever"}) {
		t.Errorf("%v", err)
	}
}

// What hangs loose is named, though links are as many as freedoms and others fight.
func TestLooseAndFighting(t *testing.T) {
	x := linkage.Direction{X: 1}
	spec := with(fourBar(), network.Spec{
		Bodies: []network.Body{{Name: "washout", Kind: network.Slider, Point: at(9, 0, 0), Axis: x}},
		Balls:  []network.Ball{{Name: "low arm", Body: "servo", At: at(0, 0, -15)}, {Name: "low end", Body: "lever", At: at(0, 40, -20)}},
		Links:  []network.Link{{Name: "second rod", A: "low arm", B: "low end"}},
	})
	var e *network.LooseError
	if _, err := network.New(spec); !errors.As(err, &e) || !slices.Equal(e.Bodies, []string{"washout"}) || e.Freedoms != 1 || e.Conflicts != 1 {
		t.Errorf("%v", err)
	}
	spec.Bodies = spec.Bodies[:2]
	n, err := network.New(spec)
	if err != nil {
		t.Fatal(err)
	}
	if !n.Strained() {
		t.Error("two rods for one lever do not count as too many")
	}
	spec.Links = nil
	if _, err := network.New(spec); !errors.As(err, &e) || !slices.Equal(e.Bodies, []string{"lever"}) || e.Conflicts != 0 {
		t.Errorf("%v", err)
	}
	// At a dead centre the lever can move as well.
	spec = fourBar()
	spec.Balls[1].At = at(0, 55, 5.625) // in line with the rod
	spec.Balls[0].At = at(0, 20, -7.5)
	if _, err := network.New(spec); !errors.As(err, &e) || !slices.Equal(e.Bodies, []string{"lever"}) {
		t.Errorf("in line: %v", err)
	}
	// Two plates' worth of freedoms, one of them held.
	spec = with(fourBar(), network.Spec{Bodies: []network.Body{{Name: "plate", Kind: network.Plate}}})
	if _, err := network.New(spec); !errors.As(err, &e) || !slices.Equal(e.Bodies, []string{"plate"}) || e.Freedoms != 3 {
		t.Errorf("%v", err)
	}
}

func TestLinkThatCannotReach(t *testing.T) {
	spec := fourBar()
	spec.Links[0].Length = 200 * mm
	var e *network.FitError
	var dead *network.DeadCentreError
	if _, err := network.New(spec); !errors.As(err, &e) || e.Link != "rod" || !errors.As(err, &dead) || dead.Link != "rod" || dead.Body != "lever" {
		t.Errorf("%v", err)
	}
	if got := e.Misfit.Millimetres(); math.Abs(got-(math.Hypot(40, 5)-200)) > 1e-9 {
		t.Errorf("misfit %v mm", got)
	}
}

// A four-bar whose servo goes round: the lever's dead centre, where rod and lever are in
// line, is where the triangle of ground, arm and rod plus lever closes, and the servo's
// where arm and rod are in line.
func TestReach(t *testing.T) {
	const tolerance = 1e-9 // rad
	spec := fourBar()
	n, err := network.New(spec)
	if err != nil {
		t.Fatal(err)
	}
	s := n.NewState()
	rod := math.Hypot(40, 5)
	// Servo at the origin from angle 90° of y: turning about x takes it from z to -y.
	angle := func(a, b, c float64) float64 { return math.Acos((a*a + b*b - c*c) / (2 * a * b)) }
	for _, direction := range []float64{1, -1} {
		part, stop, err := s.Reach([]float64{direction}, 3)
		if err != nil {
			t.Fatal(err)
		}
		var dead *network.DeadCentreError
		if !errors.As(stop, &dead) || dead.Link != "rod" {
			t.Fatalf("%v: stopped by %v", direction, stop)
		}
		theta := math.Pi/2 + direction*part // of the arm from y
		var want float64
		if dead.Body == "servo" {
			// Ground 40, arm and rod together against the lever of 20.
			want = angle(40, rod+15, 20)
			if direction > 0 {
				want = math.Pi - angle(40, rod-15, 20) // the arm points away from the rod
			}
		} else {
			want = angle(40, 15, rod+20)
			if direction < 0 {
				want = angle(40, 15, rod-20)
			}
		}
		if math.Abs(theta-want) > tolerance && math.Abs(theta+want-2*math.Pi) > tolerance {
			t.Errorf("%v: the servo's arm stops at %.9g rad by %v, want %.9g", direction, theta, stop, want)
		}
		if dead.Part != part {
			t.Errorf("Part is %v of %v", dead.Part, part)
		}
		if part, stop, err := s.Reach([]float64{direction}, 0.5); part != 0.5 || stop != nil || err != nil {
			t.Errorf("%v: half a radian gives %v, %v, %v", direction, part, stop, err)
		}
		if got := s.Coordinate(0); math.Abs(got-direction*0.5) > 1e-15 {
			t.Errorf("Reach leaves the servo at %v", got)
		}
	}
}

func TestErrorTexts(t *testing.T) {
	for _, c := range []struct {
		err  error
		want string
	}{
		{&network.CarrierError{Bodies: []string{"a", "b"}}, `"a", "b" carry each other in a circle`},
		{&network.LooseError{Bodies: []string{"a"}, Freedoms: 1}, `network: "a": can move though every input stands still`},
		{&network.LooseError{Bodies: []string{"a"}, Freedoms: 2, Conflicts: 1}, `can move in 2 ways though every input stands still; 1 of the links are too many elsewhere`},
		{&network.DeadCentreError{Link: "rod", Body: "lever", Part: 0.5}, `link "rod" loses its hold on "lever" at 50 % of the way`},
		{&network.TiltError{Plate: "plate", Part: 0.25}, `plate "plate" tilts by more than 45° from 25 % of the way`},
	} {
		if got := c.err.Error(); !strings.Contains(got, c.want) {
			t.Errorf("%s, want %s", got, c.want)
		}
	}
}

// Inputs that no servo reaches are refused at once, and not followed for hours.
func TestRefusesFarInputs(t *testing.T) {
	n, err := network.New(fourBar())
	if err != nil {
		t.Fatal(err)
	}
	s := n.NewState()
	for _, x := range []float64{101, -1e9, math.MaxFloat64} {
		var field *units.FieldError
		if err := s.Solve([]float64{x}); !errors.As(err, &field) || field.Field != "inputs[0]" {
			t.Errorf("%v: %v", x, err)
		}
	}
	var field *units.FieldError
	if _, _, err := s.Reach([]float64{1}, 1e6); !errors.As(err, &field) || field.Field != "most" {
		t.Errorf("a reach without end: %v", err)
	}
}
