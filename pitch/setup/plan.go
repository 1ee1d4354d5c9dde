package setup

import (
	"example.org/levelhead/servo/linkage"
	"example.org/levelhead/units"
)

// PlanArm is one arm under the swashplate and its link, as they stand at neutral: what a
// drawing of the machine shows.
type PlanArm struct {
	Name  string        // of the servo behind it
	Shaft linkage.Point // of the arm
	Tip   linkage.Point // the arm's ball
	End   linkage.Point // the link's other ball
	// EndShaft is the shaft of the arm that the link turns, and nil where it
	// moves a ball on the plate or on a line.
	EndShaft *linkage.Point
}

// Plan returns the arms and links under the plate at neutral. Levers, which have no
// place, are left out. The error is what the geometry reports, and none for a rig
// that was built.
func (r *Rig) Plan() ([]PlanArm, error) {
	if !r.built() {
		return nil, errNotBuilt
	}
	if r.file.Plate.BellCranks == nil {
		return r.planLegs()
	}
	var plan []PlanArm
	for i, chain := range r.parts.Chains {
		in := 0.
		for _, spec := range chain {
			arm, out, err := planOf(spec, r.servos[i].Name, in)
			if err != nil {
				return nil, err
			}
			if arm != nil {
				plan = append(plan, *arm)
			}
			in = out
		}
	}
	return plan, nil
}

func (r *Rig) planLegs() ([]PlanArm, error) {
	frame := r.head.Control.Mechanism().Neutral().Frame(r.parts.Plate.Guide)
	var plan []PlanArm
	for i, leg := range r.parts.Plate.Legs {
		arm, err := linkage.NewArm(leg.Arm)
		if err != nil {
			return nil, err
		}
		tip, _ := arm.Ball(0)
		plan = append(plan, PlanArm{Name: r.servos[i].Name, Shaft: arm.Shaft(), Tip: tip, End: frame.Point(leg.Ball)})
	}
	return plan, nil
}

// planOf returns a linkage as it stands at an input, and its output there; nil for a lever.
func planOf(spec linkage.Spec, name string, in float64) (plan *PlanArm, out float64, err error) {
	l, err := spec.Build()
	if err != nil {
		return nil, 0, err
	}
	motion, err := l.Move(in)
	if err != nil {
		return nil, 0, err
	}
	standing := func(spec linkage.ArmSpec, angle float64) (shaft, tip linkage.Point, err error) {
		arm, err := linkage.NewArm(spec)
		if err != nil {
			return shaft, tip, err
		}
		tip, _ = arm.Ball(units.Angle(angle))
		return arm.Shaft(), tip, nil
	}
	plan = &PlanArm{Name: name}
	switch s := spec.(type) {
	case linkage.ArmsSpec:
		if plan.Shaft, plan.Tip, err = standing(s.Driving, in); err != nil {
			return nil, 0, err
		}
		plan.EndShaft = new(linkage.Point)
		*plan.EndShaft, plan.End, err = standing(s.Driven, motion.Out)
	case linkage.LineSpec:
		plan.Shaft, plan.Tip, err = standing(s.Arm, in)
		plan.End = s.Ball.Along(s.Along, units.Length(motion.Out))
	default:
		return nil, motion.Out, nil
	}
	return plan, motion.Out, err
}
