package gauge_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"example.org/levelhead/pitch"
	"example.org/levelhead/pitch/gauge"
	"example.org/levelhead/pitch/internal/rigtest"
	"example.org/levelhead/pitch/machine"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/pitch/sheet"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// A link has one name: that of the parts, of the sheet's list and steps, of a gauge's
// parameter and of the joints at its ends. The chain here begins with a lever, which has no link
// and is not counted, and its two links turn the plate opposite ways: a name that is off by
// one sends a hand to the link that makes it worse.
func TestOneNameForALink(t *testing.T) {
	ratio := 0.9
	rig := rigtest.Rig(t, rigtest.Read(t, rigtest.Demos+"bellcranks.json"), func(m *machine.Machine) {
		right := &m.Plate.BellCranks.Right
		right.Chain = append([]machine.Member{{Lever: &machine.Lever{Ratio: &ratio}}}, right.Chain...)
		m.Radio.PulseStep = 0
	})
	session, err := gauge.NewSession(rig, 2, gauge.DefaultTolerances(), gauge.PitchGauge(rig))
	if err != nil {
		t.Fatal(err)
	}
	s, err := sheet.Of(rig)
	if err != nil {
		t.Fatal(err)
	}
	joints, err := rig.Joints(machine.Play{Ball: 0.1 * units.Millimetre}, swash.Demand{})
	if err != nil {
		t.Fatal(err)
	}
	thread, err := rig.Machine().Plate.LinkThread.Pitch()
	if err != nil {
		t.Fatal(err)
	}
	right := func(rig *setup.Rig) float64 {
		pose, err := rig.Head().Control.Pose(rig.Head().Control.NewState(), swash.Demand{})
		if err != nil {
			t.Fatal(err)
		}
		return pose.Tilt.Right.Degrees()
	}
	was := right(rig)
	turned := map[string]float64{}
	parts := rig.Parts()
	links := parts.Links()
	for i, link := range links {
		if name := session.Name(gauge.Parameter{Kind: gauge.ServoLink, Index: i}); name != link.Name {
			t.Errorf("link %d is %q to the gauge, and %q of the parts", i, name, link.Name)
		}
		if on := s.Neutral.Links[i]; on.Name != link.Name || on.Length != link.Length {
			t.Errorf("link %d is %+v on the sheet, and %+v of the parts", i, on, link)
		}
		if !slices.ContainsFunc(parts.Bodies(), func(b setup.Body) bool { return b.Servo == link.Servo }) {
			t.Errorf("%q is moved by no body", link.Name)
		}
		longer := rig.Parts()
		longer.SetLink(i, link.Length+thread/2)
		changed, err := rig.Refit(longer)
		if err != nil {
			t.Fatal(err)
		}
		turned[link.Name] = right(changed) - was
		at := slices.IndexFunc(s.Steps, func(step sheet.Step) bool { return step.Adjust == sheet.AdjustLink && step.Of == link.Name })
		if at < 0 {
			t.Errorf("the sheet has no step of %q", link.Name)
			continue
		}
		told := s.Steps[at].Tilt.Degrees() * math.Sin(float64(s.Steps[at].LowSide))
		if math.Abs(told-turned[link.Name]) > 2e-3 { // the sheet's is at mid stick of a mode
			t.Errorf("%q tilts by %v° to the right, and by %v° on the sheet", link.Name, turned[link.Name], told)
		}
		if !slices.ContainsFunc(joints, func(j pitch.Joint) bool { return strings.HasPrefix(j.Name, link.Name+", ") }) {
			t.Errorf("no joint is named after %q", link.Name)
		}
	}
	if first, second := turned["right cyclic, first link"], turned["right cyclic, second link"]; !(first*second < 0) {
		t.Errorf("the links tilt by %v° and %v°: not opposite ways", first, second)
	}
}
