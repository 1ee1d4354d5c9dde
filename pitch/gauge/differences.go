package gauge

import (
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// differences is effects for plates of more than three legs, whose links strain each
// other: swash.LegEffect leaves the strain out, and a fit wants its derivatives to be
// those of its values. They are central differences here, good to about 1e-8 of
// themselves. The errors are those of swash.Plate.Pose.
func (b *build) differences() (err error) {
	const (
		turn   = 1e-5 // rad
		length = 1e-6 // m
	)
	held := func() (swash.Pose, error) { return b.mechanism.Pose(b.arms) }
	rebuilt := func() (swash.Pose, error) {
		plate, err := swash.NewPlate(b.spec.Plate)
		if err != nil {
			return swash.Pose{}, err
		}
		return plate.Pose(b.arms)
	}
	for i := range b.arms {
		if b.perArm[i], err = difference(&b.arms[i], turn, held); err != nil {
			return err
		}
		arm := &b.spec.Plate.Legs[i].Arm
		if b.perRadius[i], err = difference(&arm.Radius, length, rebuilt); err != nil {
			return err
		}
		if b.perLink[i], err = difference(&arm.Link, length, rebuilt); err != nil {
			return err
		}
	}
	return nil
}

// difference returns the derivative of a pose over x, and leaves x as it was.
func difference[T units.Angle | units.Length](x *T, step T, pose func() (swash.Pose, error)) (swash.PoseRate, error) {
	was := *x
	defer func() { *x = was }()
	*x = was + step
	above, err := pose()
	if err != nil {
		return swash.PoseRate{}, err
	}
	*x = was - step
	below, err := pose()
	if err != nil {
		return swash.PoseRate{}, err
	}
	lean := above.Lean.Sub(below.Lean)
	by := swash.PoseRate{
		Height:  float64(above.Height - below.Height),
		Right:   float64(lean.Right),
		Forward: float64(lean.Forward),
	}
	return by.Scale(1 / float64(2*step)), nil
}
