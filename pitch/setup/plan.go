package setup

import "example.org/levelhead/servo/linkage"

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
			l, err := spec.Build()
			if err != nil {
				return nil, err
			}
			motion, err := l.Move(in)
			if err != nil {
				return nil, err
			}
			if placed, ok := l.(linkage.Placed); ok {
				plan = append(plan, planOf(r.servos[i].Name, placed, in, motion.Out))
			}
			in = motion.Out
		}
	}
	return plan, nil
}

// planOf returns a linkage as it stands at an input and its output.
func planOf(name string, l linkage.Placed, in, out float64) PlanArm {
	driving, driven := l.Ends(in, out)
	plan := PlanArm{Name: name, Shaft: driving.Shaft, Tip: driving.Ball, End: driven.Ball}
	if driven.OnArm {
		plan.EndShaft = &driven.Shaft
	}
	return plan
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
