package swash

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"example.org/levelhead/units"
)

// InSeries returns the stiffness of parts that stand one behind the other, such as
// a link, its balls and the servo's mount: less than that of the softest. Of no parts, and of
// parts that are not all more than 0, it is NaN, which NewPlate refuses.
func InSeries(parts ...units.Stiffness) units.Stiffness {
	var compliance units.Stiffness
	for _, k := range parts {
		if !(k > 0) {
			return units.Stiffness(math.NaN())
		}
		compliance += 1 / k
	}
	if compliance == 0 {
		return units.Stiffness(math.NaN())
	}
	return 1 / compliance
}

// weigh gives each leg its weight in the least squares on strain.
func (p *Plate) weigh() error {
	var stiffest float64
	for i, l := range p.legs {
		if !(l.stiffness >= 0) || math.IsInf(l.stiffness, 0) || (l.stiffness == 0) != (p.legs[0].stiffness == 0) {
			return refuse(fmt.Sprintf("Legs[%d].Stiffness", i), "must be more than 0 N/m on every leg, or 0 on all, not %v N/m", l.stiffness)
		}
		stiffest = math.Max(stiffest, l.stiffness)
	}
	for i := range p.legs {
		p.legs[i].weight = 1
		if stiffest > 0 {
			p.legs[i].weight = math.Sqrt(p.legs[i].stiffness / stiffest)
		}
	}
	return nil
}

// Fight is what links that disagree do to one servo: engineers call it a force fight.
type Fight struct {
	Strain units.Length `json:"strain"`           // of the link: positive stretched, negative pressed together
	Force  units.Force  `json:"force,omitempty"`  // along the link: positive pulls its ends together
	Torque units.Torque `json:"torque,omitempty"` // that the force asks of the servo, positive in the sense that raises the ball
}

// Fights puts into dst how much each servo fights in a pose with the given arms. With three
// legs, and with more that agree, none does. Forces and torques are 0 where the legs'
// Stiffness is 0, which is to say not known. The error is a *units.FieldError.
func (p *Plate) Fights(dst []Fight, pose Pose, arms []units.Angle) error {
	if err := p.checkArms(arms); err != nil {
		return err
	}
	if len(dst) != len(p.legs) {
		return refuse("dst", "room for %d servos; the plate has %d", len(dst), len(p.legs))
	}
	if err := pose.Validate(); err != nil {
		return err
	}
	f := pose.Frame(p.guide)
	for i := range p.legs {
		l := &p.legs[i]
		at := f.point(l.ball)
		s := l.arm.Stance(arms[i], at)
		ball, _ := l.arm.Ball(arms[i])
		strain := r3.Norm(r3.Sub(ball.Vec(), at.Vec())) - float64(l.arm.Link())
		force := strain * l.stiffness
		dst[i] = Fight{units.Length(strain), units.Force(force), units.Torque(force * float64(s.Lever))}
	}
	return nil
}
