package choose_test

import (
	"math"
	"testing"

	"example.org/levelhead/pitch"
	"example.org/levelhead/pitch/choose"
	"example.org/levelhead/pitch/machine"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// rounded is by how much measures of angle are off by their rounding, and some.
const rounded = 1e-6 * units.Degree

// What is measured of a machine is the worst of what is measured of its modes alone.
func TestWorstMode(t *testing.T) {
	all := choose.Try(rigOf(t, "direct", nil), choose.Candidate{}, anyPulse)
	var want choose.Measures
	want.DeadCentre = math.Pi
	for i := range all.Rig.Modes() {
		rig := rigOf(t, "direct", func(m *machine.Machine) { m.Modes = m.Modes[i : i+1] })
		one := choose.Try(rig, choose.Candidate{}, anyPulse)
		want.Tilt, want.Step, want.Deadband = max(want.Tilt, one.Tilt), max(want.Step, one.Step), max(want.Deadband, one.Deadband)
		want.Rate, want.Use, want.BeyondLimit = max(want.Rate, one.Rate), max(want.Use, one.Use), max(want.BeyondLimit, one.BeyondLimit)
		want.DeadCentre, want.BallLinkAngle, want.Error = min(want.DeadCentre, one.DeadCentre), max(want.BallLinkAngle, one.BallLinkAngle), max(want.Error, one.Error)
		want.Loaded, want.Load, want.Stroke = want.Loaded || one.Loaded, max(want.Load, one.Load), max(want.Stroke, one.Stroke)
	}
	if all.Measures != want {
		t.Errorf("%+v, want %+v", all.Measures, want)
	}
}

// A horn is looked at all around, in the corners of the sticks too.
func TestHornDeadCentre(t *testing.T) {
	rig := rigOf(t, "direct", func(m *machine.Machine) {
		m.Modes = m.Modes[:1]
		m.Head.RestAngle = 45 * units.Degree // nearer to the dead centre than any leg
	})
	r := choose.Try(rig, choose.Candidate{}, anyPulse)
	state := r.Rig.Head().Control.NewState()
	least := units.Angle(math.Pi)
	for _, at := range []pitch.Stick{{Collective: 1, Right: 1}, {Collective: 0, Forward: -1}, {Collective: 1, Right: 1, Forward: 1}, {Collective: 0, Right: 1, Forward: 1}} {
		demand, err := r.Rig.Modes()[0].Setting().Demand(at)
		if err != nil {
			t.Fatal(err)
		}
		pose, _, err := r.Rig.Head().Control.Slopes(state, demand)
		if err != nil {
			t.Fatal(err)
		}
		for bearing := range 8 {
			e, err := r.Rig.Head().Grip.Effect(units.Angle(bearing)*math.Pi/4, pose)
			if err != nil {
				t.Fatal(err)
			}
			least = min(least, units.Angle(math.Asin(e.Margin)))
		}
	}
	if r.DeadCentre > least+rounded {
		t.Errorf("%v from a dead centre, where a horn is at %v", r.DeadCentre, least)
	}
}

// Servos that do not carry the plate's height have no part in a step of collective.
func TestStepOfCranks(t *testing.T) {
	r := choose.Try(rigOf(t, "bellcranks", func(m *machine.Machine) { m.Modes = m.Modes[:1] }), choose.Candidate{}, anyPulse)
	drive := r.Rig.Head().Control
	state, collective := drive.NewState(), drive.Servos()[0]
	var want units.Angle
	for k := range 41 {
		demand, err := r.Rig.Modes()[0].Setting().Demand(pitch.Stick{Collective: float64(k) / 40})
		if err != nil {
			t.Fatal(err)
		}
		s, err := r.Rig.Head().Sensitivity(state, r.Rig.Gauge().Bearing, demand)
		if err != nil {
			t.Fatal(err)
		}
		change := float64(collective.ArmPerStep()) * state.Effects[0].PerArm.Dot(s.PerPose)
		want = max(want, units.Angle(math.Abs(change)))
	}
	if math.Abs(float64(r.Step-want)) > float64(rounded) {
		t.Errorf("a step of %v, want %v", r.Step, want)
	}
}

// A plate that tilts at neutral gives its blades cyclic pitch there, which is no part of
// what full cyclic adds.
func TestCyclicTargetOnTiltingPlate(t *testing.T) {
	const steps = 0.1 * units.Degree // the radio's, of pulse and per cent
	rig := rigOf(t, "direct", func(m *machine.Machine) {
		m.Modes = m.Modes[1:2]
		m.Plate.Legs[1].Servo.SubTrim = 30 * units.PulseMicrosecond
	})
	centre, err := rig.Head().Control.Pose(rig.Head().Control.NewState(), swash.Demand{})
	if err != nil {
		t.Fatal(err)
	}
	if r := choose.Try(rig, choose.Candidate{}, anyPulse); r.Error > steps || centre.Tilt.Amount() < 5*steps {
		t.Errorf("missed by %v, tilting %v at neutral", r.Error, centre.Tilt.Amount())
	}
}

// A mode without targets is off by what its cyclic is off, where that is the most.
func TestCarriedCyclic(t *testing.T) {
	rig := rigOf(t, "direct", func(m *machine.Machine) {
		m.Modes = m.Modes[:1]
		m.Radio.PercentStep = 7 * units.Percent
	})
	r := choose.Try(rig, choose.Candidate{Arms: []units.Length{14 * mm, 14 * mm, 14 * mm}}, anyPulse)
	of, err := rig.Modes()[0].Transfer(r.Rig, setup.TransferOptions{})
	if err != nil {
		t.Fatal(err)
	}
	collective := max(of.WorstEntered.Pitch, -of.WorstEntered.Pitch)
	var cyclic units.Angle
	for _, c := range of.Cyclic {
		cyclic = max(cyclic, c.Entered-c.Wanted, c.Wanted-c.Entered)
	}
	if math.Abs(float64(r.Error-max(collective, cyclic))) > float64(rounded) || cyclic <= collective {
		t.Errorf("off by %v; collective by %v, cyclic by %v", r.Error, collective, cyclic)
	}
}

// The machine as it is keeps its modes and misses nothing.
func TestPresentIsLeft(t *testing.T) {
	rig := rigOf(t, "direct", func(m *machine.Machine) { m.Modes = m.Modes[:1] })
	rates, curve := *rig.Machine().Modes[0].Rates, rig.Modes()[0].Setting().Pitch
	r := choose.Try(rig, choose.Candidate{}, anyPulse)
	for _, after := range []*setup.Rig{rig, r.Rig} {
		if is := *after.File().Modes[0].Rates; r.Error != 0 || is != rates || after.Modes()[0].Setting().Pitch != curve {
			t.Errorf("off by %v, with rates %v and %v", r.Error, is, rates)
		}
	}
}

// A ball alone is a change of all legs.
func TestBallAlone(t *testing.T) {
	r := choose.Try(rigOf(t, "direct", nil), choose.Candidate{Ball: 28 * mm}, anyPulse)
	for i, leg := range r.Rig.Parts().Plate.Legs {
		if !r.Changes[i].Changed || leg.Ball.Radius != 28*mm || leg.Arm.Radius != r.Changes[i].Arm {
			t.Errorf("%+v with a ball at %v", r.Changes[i], leg.Ball.Radius)
		}
	}
}
