package setup

import (
	"example.org/levelhead/pitch"
	"example.org/levelhead/pitch/machine"
	"example.org/levelhead/servo/linkage"
	"example.org/levelhead/swash"
)

// Joints returns every joint with play on the way to the blade under the gauge, at a
// scaled demand, for the play of each kind of joint. The errors are those of
// pitch.Head.Sensitivity.
func (r *Rig) Joints(play machine.Play, demand swash.Demand) (pitch.Joints, error) {
	if !r.built() {
		return nil, errNotBuilt
	}
	state := r.head.Control.NewState()
	s, err := r.head.Sensitivity(state, r.file.Gauge.Bearing, demand)
	if err != nil {
		return nil, err
	}
	perLink, err := r.perLink(s.Pose, state)
	if err != nil {
		return nil, err
	}
	plays := map[JointKind]float64{BallJoint: float64(play.Ball), Gear: float64(play.Gear), Bearing: float64(play.Bearing)}
	joints := pitch.Joints{}
	for _, j := range r.parts.Joints() {
		joint := pitch.Joint{Name: j.Name, Half: plays[j.Kind] / 2}
		switch {
		case j.Servo >= 0:
			joint.Pose = state.Effects[j.Servo].PerArm
		case j.Link >= 0:
			joint.Pose = perLink[j.Link]
		}
		if joint.Blade = joint.Pose.Dot(s.PerPose); j.Share != 0 {
			joint.Blade = s.PerLink * j.Share
		}
		joints = append(joints, joint)
	}
	return joints, nil
}

// perLink returns the derivatives of the pose over the links under the plate, in the order of
// Parts.Links.
func (r *Rig) perLink(pose swash.Pose, state *swash.State) ([]swash.PoseRate, error) {
	var per []swash.PoseRate
	switch m := r.head.Control.Mechanism().(type) {
	case *swash.Plate:
		legs := make([]swash.LegEffect, m.Servos())
		if err := m.LegEffects(legs, pose, state.Arms); err != nil {
			return nil, err
		}
		for _, leg := range legs {
			per = append(per, leg.PerLink)
		}
	case *swash.BellCranks:
		for i, arm := range state.Arms {
			linked, ok := m.Chain(i).(linkage.Linked)
			if !ok {
				continue // levers alone have no links
			}
			slopes, err := linked.LinkSlopes(nil, float64(arm))
			if err != nil {
				return nil, err
			}
			for _, s := range slopes {
				per = append(per, alone(i, s))
			}
		}
	}
	return per, nil
}

// alone returns the rate of a pose of which only one function changes.
func alone(function int, rate float64) swash.PoseRate {
	switch function {
	case 0:
		return swash.PoseRate{Height: rate}
	case 1:
		return swash.PoseRate{Right: rate}
	}
	return swash.PoseRate{Forward: rate}
}
