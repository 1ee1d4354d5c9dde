package setup_test

import (
	"errors"
	"math"
	"testing"

	"example.org/levelhead/pitch/internal/rigtest"
	"example.org/levelhead/pitch/machine"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/servo/linkage"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// A rig's parts put together are the rig's head, and changing them leaves the rig as
// it is.
func TestParts(t *testing.T) {
	for _, name := range []string{"direct", "bellcranks", "fourservos", "flybar", "spatial"} {
		r := rigtest.Rig(t, rigtest.Read(t, rigtest.Demos+name+".json"), func(*machine.Machine) {})
		demand := swash.Demand{Collective: 0.3, Right: 0.2, Forward: -0.1}
		blade := func() units.Angle {
			p, _, err := r.Head().Blade(r.Head().Control.NewState(), 1, demand)
			if err != nil {
				t.Fatal(err)
			}
			return p
		}
		was := blade()
		parts := r.Parts()
		head, err := parts.Head()
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		if again, _, err := head.Blade(head.Control.NewState(), 1, demand); again != was || err != nil {
			t.Errorf("%s: the parts give %v, the rig %v (%v)", name, again, was, err)
		}
		links, untouched := parts.Links(), r.Parts()
		for i, link := range links {
			longer := link.Length + 0.5*units.Millimetre
			parts.SetLink(i, longer)
			if again := r.Parts(); again.Links()[i] != link || untouched.Links()[i] != link || parts.Links()[i].Length != longer {
				t.Errorf("%s: link %d of the rig has changed with its copy", name, i)
			}
		}
		parts.Servos[0].SubTrim += 1 * units.PulseMicrosecond
		parts.Mix[0].Collective = 0.9
		changed, err := parts.Head()
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		if other, _, err := changed.Blade(changed.Control.NewState(), 1, demand); other == was || err != nil {
			t.Errorf("%s: changed parts give %v, as before (%v)", name, other, err)
		}
		if again := r.Parts(); again.Mix[0].Collective == parts.Mix[0].Collective || again.Servos[0].SubTrim == parts.Servos[0].SubTrim {
			t.Errorf("%s: servos or mixing of the rig have changed with their copies", name)
		}
		if again := blade(); again != was {
			t.Errorf("%s: the rig gives %v after a change of its parts, %v before", name, again, was)
		}
		if legs, cranks := len(parts.Plate.Legs), len(parts.Chains[0]); (legs == 0) == (cranks == 0) || len(links) < 3 {
			t.Errorf("%s: %d legs, %d members of the collective chain, %d links", name, legs, cranks, len(links))
		}
	}
}

// A rig with other parts is another rig: its targets are solved again, and the first
// one stays as it is. A longer arm needs less rate for the same pitch.
func TestWith(t *testing.T) {
	r := rigtest.Rig(t, rigtest.Read(t, rigtest.Demos+"direct.json"), func(*machine.Machine) {})
	parts := r.Parts()
	for i := range parts.Plate.Legs {
		parts.Plate.Legs[i].Arm.Radius = 14 * units.Millimetre
	}
	longer, err := r.With(parts)
	if err != nil {
		t.Fatal(err)
	}
	was, is := r.Modes()[1].Solved().Enter.Rates.Collective, longer.Modes()[1].Solved().Enter.Rates.Collective
	if is >= was || math.Abs(float64(is/was)-12./14) > 0.02 {
		t.Errorf("an arm of 14 mm in place of 12 mm takes a rate of %v in place of %v", is, was)
	}
	if r.Servos()[0].Arm != 12*units.Millimetre || longer.Servos()[0].Arm != 14*units.Millimetre {
		t.Errorf("arms of %v and %v", r.Servos()[0].Arm, longer.Servos()[0].Arm)
	}
	again := longer.Parts()
	parts.Plate.Legs[0].Arm.Radius = 1
	if more := longer.Parts(); more.Plate.Legs[0].Arm.Radius != again.Plate.Legs[0].Arm.Radius {
		t.Error("the rig has changed with the parts that it was made of")
	}
	parts.Grip.Link = 1
	if _, err := r.With(parts); err == nil {
		t.Error("a pitch link of a metre was taken")
	}
}

// A servo on bell cranks has its arm in the first member of its chain.
func TestWithCranks(t *testing.T) {
	r := rigtest.Rig(t, rigtest.Read(t, rigtest.Demos+"bellcranks.json"), func(*machine.Machine) {})
	parts := r.Parts()
	first := parts.Chains[0][0].(linkage.ArmsSpec)
	first.Driving.Radius += 0.5 * units.Millimetre
	parts.Chains[0][0] = first
	longer, err := r.With(parts)
	if err != nil {
		t.Fatal(err)
	}
	if got := longer.Servos()[0].Arm; got != first.Driving.Radius || longer.Servos()[1].Arm != r.Servos()[1].Arm {
		t.Errorf("arms of %v and %v", got, longer.Servos()[1].Arm)
	}
}

// A machine keeps its servos, whatever parts it is given.
func TestWithOtherServos(t *testing.T) {
	r := rigtest.Rig(t, rigtest.Read(t, rigtest.Demos+"direct.json"), func(*machine.Machine) {})
	four := rigtest.Rig(t, rigtest.Read(t, rigtest.Demos+"fourservos.json"), func(*machine.Machine) {})
	var input *units.FieldError
	for _, parts := range []setup.Parts{four.Parts(), {}} {
		if _, err := r.With(parts); !errors.As(err, &input) || input.Field != "servos" {
			t.Errorf("%d servos on a machine of 3: %v", len(parts.Servos), err)
		}
	}
}
