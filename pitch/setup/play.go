package setup

import (
	"fmt"

	"example.org/levelhead/pitch/machine"

	"example.org/levelhead/pitch"
	"example.org/levelhead/servo/linkage"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// Joints returns every joint with play on the way to the blade under the gauge, at a
// scaled demand, for the play of each kind of joint. The errors are those of
// pitch.Head.Sensitivity.
func (r *Rig) Joints(play machine.Play, demand swash.Demand) (pitch.Joints, error) {
	state := r.head.Control.NewState()
	s, err := r.head.Sensitivity(state, r.file.Gauge.Bearing, demand)
	if err != nil {
		return nil, err
	}
	joints := pitch.Joints{}
	add := func(name string, play float64, pose swash.PoseRate) {
		joints = append(joints, pitch.Joint{Name: name, Half: play / 2, Pose: pose, Blade: pose.Dot(s.PerPose)})
	}
	for i, servo := range r.servos {
		add(servo.Name+" servo gear", float64(play.Gear), state.Effects[i].PerArm)
	}
	switch m := r.head.Control.Mechanism().(type) {
	case *swash.Plate:
		legs := make([]swash.LegEffect, m.Servos())
		if err := m.LegEffects(legs, s.Pose, state.Arms); err != nil {
			return nil, err
		}
		for i, servo := range r.servos {
			add(servo.Name+" ball on the arm", float64(play.Ball), legs[i].PerLink)
			add(servo.Name+" ball on the plate", float64(play.Ball), legs[i].PerLink)
		}
	case *swash.BellCranks:
		for i := range r.servos {
			links, err := perLink(m.Chain(i), float64(state.Arms[i]))
			if err != nil {
				return nil, err
			}
			f := r.file.Plate.BellCranks.Functions()[i]
			for k, slope := range links {
				pose := alone(i, slope)
				name := linkName(f, k, len(links))
				add(name+", first ball", float64(play.Ball), pose)
				add(name+", second ball", float64(play.Ball), pose)
				// The play of a crank between two links is along both.
				crank := func(c int) {
					add(fmt.Sprintf("%s, %s crank, towards the %s link", control(f), ordinal(c), ordinal(k)), float64(play.Bearing), pose)
				}
				if k > 0 {
					crank(k - 1)
				}
				if k+1 < len(links) {
					crank(k)
				}
			}
		}
	}
	above := func(name string, play units.Length, blade float64) {
		joints = append(joints, pitch.Joint{Name: name, Half: float64(play) / 2, Blade: blade})
	}
	above("pitch link, lower ball", play.Ball, s.PerLink)
	above("pitch link, ball on the pitch horn", play.Ball, s.PerLink)
	if mixer := r.head.Grip.Spec().Mixer; mixer != (pitch.MixingArm{}) {
		// Play at an end of the mixing arm reaches the pitch link by that end's
		// share. It is taken along the pitch link, as the plate's links are near to.
		plate, bar := mixer.Shares()
		ahead := plate // of what stands before a washout arm
		if mixer.WashoutIn != 0 {
			plate *= float64(mixer.WashoutIn / mixer.WashoutOut)
			above("washout arm, ring's ball", play.Ball, s.PerLink*ahead)
			above("washout arm, on its pin", play.Bearing, s.PerLink*(ahead+plate))
		}
		above("mixing arm, plate's ball", play.Ball, s.PerLink*plate)
		above("mixing arm, flybar's ball", play.Ball, s.PerLink*bar)
		above("flybar, on its pin", play.Bearing, s.PerLink*bar)
	}
	return joints, nil
}

// perLink returns the derivatives of a linkage's output over its links.
func perLink(l linkage.Linkage, in float64) ([]float64, error) {
	linked, ok := l.(linkage.Linked)
	if !ok {
		return nil, nil
	}
	return linked.LinkSlopes(nil, in)
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
