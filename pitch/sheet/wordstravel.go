package sheet

import (
	"fmt"
	"math"
	"strings"

	"example.org/levelhead/pitch/machine"
	"example.org/levelhead/units"
)

// at says the place of a finding that is about all modes.
func (p Place) at() string { return fmt.Sprintf("mode %q, %v", p.Mode, p.stick()) }

// lever is the least lever of a link, as a part of its arm: a link out of the arm's plane
// shortens it too, so that it tells no angle between the two.
type lever struct {
	Place
	Lever      units.Ratio
	LeastLever units.Ratio // what Limit asks for
	Limit      units.Angle
}

func (f lever) figure(link, arm string) string {
	return fmt.Sprintf("the %s's lever is %.1f %% of the %s's length. That is less than the %.1f %% that the limit asks for (%s), in %s",
		link, 100*float64(f.Lever), arm, 100*float64(f.LeastLever), machine.LimitText(f.Limit, ours.DeadCentre), f.at())
}

type armNearDeadCentre struct{ lever }

func (f armNearDeadCentre) finding() Finding {
	return Finding{Kind: ArmNearDeadCentre, Severity: Fix, Where: f.Servo, What: "Servo arm near a dead centre", Figure: f.figure("link", "arm"),
		Do: "Use less travel, a longer arm, or a link that runs in the plane in which the arm turns. Near a dead centre the servo loses its hold and the swashplate jumps."}
}

type hornNearDeadCentre struct{ lever }

func (f hornNearDeadCentre) finding() Finding {
	return Finding{Kind: HornNearDeadCentre, Severity: Fix, Where: "pitch horn", What: "Pitch horn near a dead centre", Figure: f.figure("pitch link", "pitch horn"),
		Do: "Use less pitch, a longer pitch horn, or a link that is squarer to it."}
}

type ballLinkAngleTooWide struct {
	Place
	Angle units.Angle // of the link out of its arm's plane
	Limit units.Angle
}

func (f ballLinkAngleTooWide) finding() Finding {
	return Finding{Kind: BallLinkAngleTooWide, Severity: Fix, Where: f.Servo, What: "Ball link beyond its angle",
		Figure: fmt.Sprintf("the link stands %.1f° out of the arm's plane (%s), in %s", f.Angle.Degrees(), machine.LimitText(f.Limit, ours.BallLinkAngle), f.at()),
		Do:     "Move the servo or the ball, so that the link runs straighter. A ball link that binds pops off."}
}

// relief is what to do about sub-trims where servos fight.
type relief int

const (
	correctTrims relief = iota // they cannot stand at neutral as they are
	leaveTrims                 // no others strain the links less at neutral
	squareFirst                // for squaring the arms sets others
	setTrims
)

// servosFight is where a link is strained most.
type servosFight struct {
	Place
	Strain units.Length
	Limit  units.Length
	Force  *units.Force  // along the link; nil where the file does not tell
	Torque *units.Torque // that its servo holds
	Trims  []trim        // for setTrims
	relief relief
}

func (f servosFight) finding() Finding {
	figure := fmt.Sprintf("the link of servo %s is strained by %.2f mm (%s). That is in %s", f.Servo, f.Strain.Millimetres(), machine.LimitText(f.Limit, ours.Strain), f.at())
	if f.Force != nil {
		figure += fmt.Sprintf(". The force along the link is %.0f N. Its servo holds %.3f N·m, buzzes and runs hot", math.Abs(f.Force.Newtons()), math.Abs(f.Torque.NewtonMetres()))
	}
	var do string
	switch f.relief {
	case correctTrims:
		do = "Correct the sub-trims at neutral."
	case leaveTrims:
		do = "Leave the sub-trims. With collective and cyclic at zero, no other values strain the links less."
	case squareFirst:
		do = "Square the servo arms first, as the sheet says for neutral. Then type the new values into the file and print again."
	case setTrims:
		var trims []string
		for _, t := range f.Trims {
			trims = append(trims, t.Servo+" "+signed(t.SubTrim))
		}
		do = "Set these sub-trims: " + strings.Join(trims, ", ") + ". With collective and cyclic at zero, no link is then strained."
	}
	return Finding{Kind: ServosFight, Severity: Fix, Where: "servos", What: "Servos fight each other over the swashplate", Figure: figure,
		Do: do + " Some strain stays over the travel. It comes from the arcs of the arms, and from unequal links, arms or end points. Sub-trim does not cure it; less cyclic and longer links do."}
}

// travelUnused names a better hole for the servo's arm, or for the arms of all servos where
// they share the controls.
type travelUnused struct {
	Place
	Use       units.Ratio
	Limit     units.Ratio
	Arm       *units.Length // nil for a lever
	WantedArm *units.Length // that leaves a tenth of the travel; where no hole is better
	Hole      *units.Length // the better hole
}

func (f travelUnused) finding() Finding {
	return Finding{Kind: TravelUnused, Severity: Fix, Where: f.Servo, What: "Little of the servo's travel is used",
		Figure: fmt.Sprintf("at most %.0f %% of the way to a pulse limit, over all sticks and modes (%s). Resolution and torque are wasted", 100*float64(f.Use), machine.LimitText(f.Limit, ours.LeastUse)),
		Do:     f.cure()}
}

func (f travelUnused) cure() string {
	whose, rates, rest := "all servos", "the rates", ""
	if f.Control != "" {
		whose, rates, rest = "servo "+f.Servo, "the "+f.Control+" rate", " Leave the other rates."
	}
	switch {
	case f.Arm == nil:
		return fmt.Sprintf("Make the ratio of the lever on %s smaller, and raise %s to match.%s", whose, rates, rest)
	case f.Hole == nil:
		return fmt.Sprintf("Look for an arm hole at about %.1f mm in place of %.1f mm on %s. Raise %s to match.%s The machine file lists no such hole.",
			f.WantedArm.Millimetres(), f.Arm.Millimetres(), whose, rates, rest)
	}
	more := float64(*f.Arm / *f.Hole)
	return fmt.Sprintf("Use the %.1f mm arm hole in place of %.1f mm on %s. Multiply %s by %.2f.%s Resolution and torque at the plate rise by as much, with %.0f %% of the travel in use.",
		f.Hole.Millimetres(), f.Arm.Millimetres(), whose, rates, more, rest, 100*float64(f.Use)*more)
}
