package networktest

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

// tripod is a plate on three servo arms; with a spare leg it is strained.
func tripod(legs int) network.Spec {
	const mm = 1e-3
	point := func(r, sin, cos, z float64) linkage.Point {
		return linkage.Point{X: units.Length(r * sin * mm), Y: units.Length(r * cos * mm), Z: units.Length(z * mm)}
	}
	var s network.Spec
	for i := range legs {
		sin, cos := math.Sincos(0.2 + 2*math.Pi*float64(i)/float64(legs))
		name := []string{"right", "back", "left", "front"}[i]
		s.Bodies = append(s.Bodies, network.Body{Name: name, Kind: network.Crank, Point: point(15, sin, cos, 0), Axis: linkage.Direction{X: cos, Y: -sin}, Input: true})
		s.Balls = append(s.Balls, network.Ball{Name: name + " arm", Body: name, At: point(30, sin, cos, 0)}, network.Ball{Name: name + " plate", Body: "plate", At: point(28, sin, cos, 50+float64(i))})
		s.Links = append(s.Links, network.Link{Name: name + " leg", A: name + " arm", B: name + " plate"})
	}
	s.Bodies = append(s.Bodies, network.Body{Name: "plate", Kind: network.Plate, Height: 50 * mm, Mark: network.MarkAt(math.Pi)})
	return s
}

// spoilt is a state of which a method may be spoilt.
type spoilt struct {
	*network.State
	solve       func(in []float64) error
	shift       func(x []float64) // of Coordinate and Coordinates
	coordinate  func(i int) float64
	position    func(ball int) linkage.Point
	strains     func(dst []units.Length) error
	effect      func(dst []float64, p network.Part) error
	inputEffect func(dst []float64, input int) error
	gradient    func(dst, weights []float64, parts []network.Part) error
	carry       func(torques []float64, forces []units.Force, load network.Load) error
	play        func(dst []float64) error

	all  []float64
	been int // calls of Solve
}

func (s *spoilt) Solve(in []float64) error {
	s.been++
	if s.solve != nil {
		return s.solve(in)
	}
	return s.State.Solve(in)
}

func (s *spoilt) Coordinates(dst []float64) error {
	err := s.State.Coordinates(dst)
	if err == nil && s.shift != nil {
		s.shift(dst)
	}
	return err
}

func (s *spoilt) Coordinate(i int) float64 {
	if s.coordinate != nil {
		return s.coordinate(i)
	}
	if s.shift == nil || s.Coordinates(s.all) != nil {
		return s.State.Coordinate(i)
	}
	return s.all[i]
}

func (s *spoilt) Position(ball int) linkage.Point {
	if s.position != nil {
		return s.position(ball)
	}
	return s.State.Position(ball)
}

func (s *spoilt) Strains(dst []units.Length) error {
	if s.strains != nil {
		return s.strains(dst)
	}
	return s.State.Strains(dst)
}

func (s *spoilt) Effect(dst []float64, p network.Part) error {
	if s.effect != nil {
		return s.effect(dst, p)
	}
	return s.State.Effect(dst, p)
}

func (s *spoilt) InputEffect(dst []float64, input int) error {
	if s.inputEffect != nil {
		return s.inputEffect(dst, input)
	}
	return s.State.InputEffect(dst, input)
}

func (s *spoilt) Gradient(dst, weights []float64, parts []network.Part) error {
	if s.gradient != nil {
		return s.gradient(dst, weights, parts)
	}
	return s.State.Gradient(dst, weights, parts)
}

func (s *spoilt) Carry(torques []float64, forces []units.Force, load network.Load) error {
	if s.carry != nil {
		return s.carry(torques, forces, load)
	}
	return s.State.Carry(torques, forces, load)
}

func (s *spoilt) Play(dst []float64) error {
	if s.play != nil {
		return s.play(dst)
	}
	return s.State.Play(dst)
}

// plate returns where the coordinates of the tripod's plate begin, however it is listed.
func (s *spoilt) plate() int {
	i, _ := s.Network().Coordinate("plate")
	return i
}

// arm is the same of its first servo.
func (s *spoilt) arm() int {
	i, _ := s.Network().Coordinate("right")
	return i
}

// mirrored and turned tell how the kit has changed the tripod.
func (s *spoilt) mirrored() bool {
	ball, _ := s.Network().Ball("right arm")
	return s.Network().Spec().Balls[ball].At.X < 0
}

func (s *spoilt) turned() bool { return s.Network().Spec().Bodies[0].Name == "plate" }

// impossible turns the error of inputs that the tripod cannot follow into another one.
func (s *spoilt) impossible(other error) func([]float64) error {
	return func(in []float64) error {
		err := s.State.Solve(in)
		if err == nil {
			return nil
		}
		if input := (*units.FieldError)(nil); errors.As(err, &input) {
			return err
		}
		return other
	}
}

var refusal = &units.FieldError{}

var sink []float64 // keeps an allocation from being left out

func TestBroken(t *testing.T) {
	here := []float64{0.3, -0.2, 0.1}
	gone := []float64{1.5, -1.5, -1.5} // where the plate cannot get
	for name, test := range map[string]struct {
		spoil func(s *spoilt)
		laws  []int  // all that are broken, in rising order
		says  string // by the error of one of them
		spare bool   // with a leg too many
	}{
		"sound": {spoil: func(*spoilt) {}},
		"ball off its body": {spoil: func(s *spoilt) {
			s.position = func(ball int) linkage.Point {
				p := s.State.Position(ball)
				p.Z *= 1 + 1e-9
				return p
			}
		}, laws: []int{1}, says: "and its body carries it to"},
		"strain hidden": {spoil: func(s *spoilt) {
			s.strains = func(dst []units.Length) error {
				err := s.State.Strains(dst)
				clear(dst)
				return err
			}
		}, laws: []int{1}, says: "and between its balls it is", spare: true},
		"link too long": {spoil: func(s *spoilt) {
			s.shift = func(x []float64) { x[s.plate()] += 1e-9 }
		}, laws: []int{1, 4}, says: "longer than its length"},
		"answer of NaN": {spoil: func(s *spoilt) {
			s.shift = func(x []float64) { x[s.plate()] = math.NaN() }
		}, laws: []int{1}, says: "is NaN"},
		"strains not least": {spoil: func(s *spoilt) {
			s.shift = func(x []float64) { x[s.plate()] += 1e-9 }
		}, laws: []int{1}, says: "energy is least", spare: true},
		"effect off": {spoil: func(s *spoilt) {
			s.effect = func(dst []float64, p network.Part) error {
				err := s.State.Effect(dst, p)
				for i := range dst {
					dst[i] *= 1 + 1e-7
				}
				return err
			}
		}, laws: []int{2}, says: "by differences"},
		"effect forgotten": {spoil: func(s *spoilt) {
			s.effect = func(dst []float64, p network.Part) error {
				clear(dst)
				return nil
			}
		}, laws: []int{2}, says: "by differences"},
		"input's effect in degrees": {spoil: func(s *spoilt) {
			s.inputEffect = func(dst []float64, input int) error {
				err := s.State.InputEffect(dst, input)
				for i := range dst {
					dst[i] *= math.Pi / 180
				}
				return err
			}
		}, laws: []int{2, 3}, says: "over input"},
		"gradient off": {spoil: func(s *spoilt) {
			s.gradient = func(dst, weights []float64, parts []network.Part) error {
				err := s.State.Gradient(dst, weights, parts)
				dst[0] *= 1 + 1e-6
				return err
			}
		}, laws: []int{2}, says: "the sum of effects"},
		"effect refuses": {spoil: func(s *spoilt) {
			s.effect = func([]float64, network.Part) error { return refusal }
		}, laws: []int{2}, says: "Effect refuses"},
		"torque off": {spoil: func(s *spoilt) {
			s.carry = func(torques []float64, forces []units.Force, load network.Load) error {
				err := s.State.Carry(torques, forces, load)
				for i := range torques {
					torques[i] *= 1 + 1e-6
				}
				return err
			}
		}, laws: []int{3}, says: "is lost"},
		"torque against the load": {spoil: func(s *spoilt) {
			s.carry = func(torques []float64, forces []units.Force, load network.Load) error {
				err := s.State.Carry(torques, forces, load)
				for i := range torques {
					torques[i] = -torques[i]
				}
				return err
			}
		}, laws: []int{3}, says: "is lost"},
		"forces push for pull": {spoil: func(s *spoilt) {
			s.carry = func(torques []float64, forces []units.Force, load network.Load) error {
				err := s.State.Carry(torques, forces, load)
				for i := range forces {
					forces[i] = -forces[i]
				}
				return err
			}
		}, laws: []int{3}, says: "of a load on"},
		"fights that hold nothing": {spoil: func(s *spoilt) {
			s.carry = func(torques []float64, forces []units.Force, load network.Load) error {
				err := s.State.Carry(torques, forces, load)
				if len(forces) > 0 {
					forces[0] += 1
				}
				return err
			}
		}, laws: []int{3}, says: "the fights leave", spare: true},
		"arm on its other branch": {spoil: func(s *spoilt) {
			if !s.Network().Coordinates()[s.arm()].Input {
				s.shift = func(x []float64) { x[s.arm()] = math.Pi - x[s.arm()] }
			}
		}, laws: []int{4}, says: "the other way round"},
		"right is not left": {spoil: func(s *spoilt) {
			if s.mirrored() {
				s.shift = func(x []float64) { x[s.plate()+1] += 1e-9 }
			}
		}, laws: []int{5}, says: "in the mirror"},
		"mirror refused": {spoil: func(s *spoilt) {
			if s.mirrored() {
				s.solve = func([]float64) error { return refusal }
			}
		}, laws: []int{5}, says: "the mirror image refuses"},
		"jump": {spoil: func(s *spoilt) {
			s.shift = func(x []float64) {
				if x[s.arm()] > 0.15 {
					x[s.plate()] += 1e-5
				}
			}
		}, laws: []int{1, 3, 4, 6}, says: "jumps by"},
		"gap": {spoil: func(s *spoilt) {
			s.solve = func(in []float64) error {
				if in[0] > 0.1 && in[0] < 0.2 {
					return &network.DeadCentreError{Link: "right leg", Body: "plate"}
				}
				return s.State.Solve(in)
			}
		}, laws: []int{6}, says: "what has an answer has none"},
		"hangs on where it was": {spoil: func(s *spoilt) {
			s.shift = func(x []float64) {
				if s.been > 5 {
					x[s.plate()] += 1e-9
				}
			}
		}, laws: []int{6}, says: "come from near by"},
		"Solve allocates": {spoil: func(s *spoilt) {
			s.solve = func(in []float64) error {
				sink = make([]float64, 1)
				return s.State.Solve(in)
			}
		}, laws: []int{7}, says: "Solve allocates"},
		"Effect allocates": {spoil: func(s *spoilt) {
			s.effect = func(dst []float64, p network.Part) error {
				sink = make([]float64, 1)
				return s.State.Effect(dst, p)
			}
		}, laws: []int{7}, says: "Effect allocates"},
		"Play allocates": {spoil: func(s *spoilt) {
			s.play = func(dst []float64) error {
				sink = make([]float64, 1)
				return s.State.Play(dst)
			}
		}, laws: []int{7}, says: "Play allocates"},
		"takes NaN": {spoil: func(s *spoilt) {
			s.solve = func(in []float64) error {
				if slices.ContainsFunc(in, math.IsNaN) {
					return nil
				}
				return s.State.Solve(in)
			}
		}, laws: []int{8}, says: "Solve takes NaN"},
		"takes too many inputs": {spoil: func(s *spoilt) {
			s.solve = func(in []float64) error {
				return s.State.Solve(in[:min(len(in), 3)])
			}
		}, laws: []int{8}, says: "one input too many"},
		"number after an error": {spoil: func(s *spoilt) {
			s.coordinate = func(i int) float64 {
				if x := s.State.Coordinate(i); !math.IsNaN(x) {
					return x
				}
				return 0
			}
		}, laws: []int{8}, says: "after an error Coordinate is 0"},
		"place after an error": {spoil: func(s *spoilt) {
			s.position = func(ball int) linkage.Point {
				if p := s.State.Position(ball); !math.IsNaN(float64(p.X)) {
					return p
				}
				return linkage.Point{}
			}
		}, laws: []int{8}, says: "after an error Position"},
		"play after an error": {spoil: func(s *spoilt) {
			s.play = func(dst []float64) error {
				_ = s.State.Play(dst)
				return nil
			}
		}, laws: []int{8}, says: "after an error Play"},
		"untyped error": {spoil: func(s *spoilt) {
			s.solve = s.impossible(errors.New("cannot get there"))
		}, laws: []int{8}, says: "Solve's error is a *errors.errorString"},
		"error that names nothing": {spoil: func(s *spoilt) {
			s.solve = s.impossible(&network.DeadCentreError{Link: "leg 2", Body: "plate"})
		}, laws: []int{8}, says: "names what there is not"},
		"order of listing": {spoil: func(s *spoilt) {
			if s.turned() {
				s.shift = func(x []float64) { x[0] += 1e-9 }
			}
		}, laws: []int{9}, says: "in the other order"},
		"other order refused": {spoil: func(s *spoilt) {
			if s.turned() {
				s.solve = func([]float64) error { return refusal }
			}
		}, laws: []int{9}, says: "in the other order it refuses"},
	} {
		t.Run(name, func(t *testing.T) {
			spec, inputs := tripod(3), [][]float64{here, gone}
			if test.spare {
				spec, inputs = tripod(4), [][]float64{{0.3, -0.2, -0.3, 0.25}}
				for i := range spec.Links {
					spec.Links[i].Stiffness = 100e3
				}
			}
			err := check(spec, inputs, 4, func(n *network.Network) state {
				s := &spoilt{State: n.NewState(), all: make([]float64, len(n.Coordinates()))}
				test.spoil(s)
				return s
			})
			var list []error
			if joined, ok := err.(interface{ Unwrap() []error }); ok {
				list = joined.Unwrap()
			} else if err != nil {
				t.Fatalf("check returns %v", err)
			}
			var laws []int
			said := test.says == ""
			for _, err := range list {
				var e *LawError
				if !errors.As(err, &e) {
					t.Fatalf("check returns a %T", err)
				}
				laws = append(laws, e.Law)
				said = said || strings.Contains(e.Error(), test.says)
			}
			slices.Sort(laws)
			if laws = slices.Compact(laws); !slices.Equal(laws, test.laws) {
				t.Errorf("breaks the laws %v, want %v: %v", laws, test.laws, err)
			}
			if !said {
				t.Errorf("%v, want %q", err, test.says)
			}
		})
	}
}

// Where one thing is wrong in many places it is told once.
func TestLawError(t *testing.T) {
	err := check(tripod(3), [][]float64{{0.3, -0.2, 0.1}}, 1, func(n *network.Network) state {
		s := &spoilt{State: n.NewState()}
		s.position = func(ball int) linkage.Point {
			p := s.State.Position(ball)
			p.Z++
			return p
		}
		return s
	})
	var e *LawError
	if !errors.As(err, &e) {
		t.Fatal(err)
	}
	const want = "networktest: law 1, links kept: at inputs [0 0 0]: ball "
	if got := e.Error(); !strings.HasPrefix(got, want) || !strings.HasSuffix(got, "other places)") || e.More == 0 {
		t.Errorf("%s, want %s…", got, want)
	}
}
