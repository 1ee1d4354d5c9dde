package setup

import (
	"example.org/levelhead/pitch/machine"
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
	if r.file.Plate.BellCranks == nil {
		return r.planLegs()
	}
	var plan []PlanArm
	for _, f := range r.file.Plate.BellCranks.Functions() {
		in := 0.
		for _, member := range f.Chain.Chain {
			arm, out, err := planOf(member, f.Name, in)
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

// plan returns a member as it stands at an input, and its output there.
func planOf(p machine.Member, name string, in float64) (plan *PlanArm, out float64, err error) {
	l, err := linkageOf(p)
	if err != nil {
		return nil, 0, err
	}
	motion, err := l.Move(in)
	if err != nil {
		return nil, 0, err
	}
	standing := func(a machine.CrankArm, angle float64) (shaft, tip linkage.Point, err error) {
		arm, err := linkage.NewArm(armOf(a, *linkOf(p)))
		if err != nil {
			return shaft, tip, err
		}
		tip, _ = arm.Ball(units.Angle(angle))
		return arm.Shaft(), tip, nil
	}
	plan = &PlanArm{Name: name}
	switch {
	case p.ArmToArm != nil:
		if plan.Shaft, plan.Tip, err = standing(p.ArmToArm.Driving, in); err != nil {
			return nil, 0, err
		}
		plan.EndShaft = new(linkage.Point)
		*plan.EndShaft, plan.End, err = standing(p.ArmToArm.Driven, motion.Out)
	case p.ArmToLine != nil:
		plan.Shaft, plan.Tip, err = standing(p.ArmToLine.Arm, in)
		plan.End = p.ArmToLine.Ball.Along(p.ArmToLine.Along, units.Length(motion.Out))
	default:
		return nil, motion.Out, nil
	}
	return plan, motion.Out, err
}
