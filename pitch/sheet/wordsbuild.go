package sheet

import (
	"fmt"
	"math"

	"example.org/levelhead/pitch/machine"
	"example.org/levelhead/units"
)

type servoReversed struct {
	Place
	Down       units.Angle // of its arm, at full positive collective
	againstMix bool        // its share of collective is below zero
}

func (f servoReversed) finding() Finding {
	do := "Change this servo's reverse, and nothing else. Then check collective, right cyclic and forward cyclic again."
	if f.againstMix {
		do = "Correct the mixing before any servo reverse. There, this servo's share of collective is below zero. Then check collective, right cyclic and forward cyclic again."
	}
	return Finding{Kind: ServoReversed, Severity: Stop, Where: f.Servo, What: "Servo runs the wrong way",
		Figure: fmt.Sprintf("full positive collective turns its arm down by %.1f°", f.Down.Degrees()), Do: do}
}

type notHeldAtNeutral struct{ why string }

func (f notHeldAtNeutral) finding() Finding {
	return Finding{Kind: NotHeldAtNeutral, Severity: Stop, Where: "collective and cyclic", What: "The servos do not hold the swashplate at neutral", Figure: f.why,
		Do: "Correct the arms, links and sub-trims before anything else."}
}

type controlReversed struct {
	Place
	Rise *units.Length // of the plate, for a full demand of collective
	Tilt *units.Angle  // the same of cyclic, to its side
}

func (f controlReversed) finding() Finding {
	var effect string
	switch {
	case f.Rise != nil:
		effect = tenths(f.Rise.Millimetres()) + " mm of rise"
	case f.Tilt != nil && f.Control == "right cyclic":
		effect = tenths(f.Tilt.Degrees()) + "° of tilt to the right"
	case f.Tilt != nil:
		effect = tenths(f.Tilt.Degrees()) + "° of tilt forward"
	}
	return Finding{Kind: ControlReversed, Severity: Stop, Where: f.Control, What: "Control moves the swashplate the wrong way, or not at all",
		Figure: "a full demand of it gives about " + effect,
		Do:     "Correct the servo reverse and the mixing before anything else."}
}

// tenths says a number to a tenth, without a minus zero.
func tenths(x float64) string { return fmt.Sprintf("%.1f", math.Round(10*x)/10+0) }

type cyclicAstray struct {
	Place
	Astray units.Angle // of the tilt, from the side asked for
	Limit  units.Angle
}

func (f cyclicAstray) finding() Finding {
	side := "to one side"
	if f.Control == "right cyclic" {
		side = "forward or back"
	}
	return Finding{Kind: CyclicAstray, Severity: Fix, Where: f.Control, What: "Cyclic tilts the swashplate to another side too",
		Figure: fmt.Sprintf("the tilt is off %s by %.0f° (%s)", side, f.Astray.Degrees(), machine.LimitText(f.Limit, f.Limit)),
		Do:     "Choose the mixing that suits where the balls are on the swashplate. Or plug each servo into the channel that is mixed for it."}
}

type neutralHeightOff struct {
	File  units.Length // the height that the file gives
	Links units.Length // the height that the links make
}

func (f neutralHeightOff) finding() Finding {
	return Finding{Kind: NeutralHeightOff, Severity: Fix, Where: "swashplate", What: "The swashplate's neutral height does not agree with the links",
		Figure: fmt.Sprintf("the file says %v; the links make it %v", units.Round(f.File, 2), units.Round(f.Links, 2)),
		Do:     "Set all servo arms to neutral. Measure the height of the plate's centre and the length of the servo links. Correct the file. All figures here use the height that the links make."}
}

type armOffSquare struct {
	Place
	OffSquare   units.Angle
	Limit       units.Angle
	Teeth       int // to move the arm by
	SplineTeeth int
	SubTrim     *units.PulseWidth // that squares it then; nil where none does
}

func (f armOffSquare) finding() Finding {
	var do string
	if f.Teeth != 0 {
		do = fmt.Sprintf("Move the arm %s on its spline of %d teeth. ", teeth(f.Teeth), f.SplineTeeth)
	}
	if f.SubTrim == nil {
		do += "Check the links and where the servo is mounted. Sub-trim cannot correct the rest."
	} else {
		do += fmt.Sprintf("Set the sub-trim to %s.", signed(*f.SubTrim))
	}
	return Finding{Kind: ArmOffSquare, Severity: Fix, Where: f.Servo, What: "Servo arm not square to its link at neutral",
		Figure: fmt.Sprintf("%+.1f° off (%s), so travel up and travel down are unequal", f.OffSquare.Degrees(), machine.LimitText(f.Limit, ours.OffSquare)),
		Do:     do + " Then level the plate with the link."}
}

// signed says a sub-trim with its sign, also plus.
func signed(trim units.PulseWidth) string {
	return fmt.Sprintf("%+.4g µs", units.Round(trim, 1).Microseconds()+0) // no minus zero
}

// teeth says how many teeth to move an arm by.
func teeth(n int) string {
	way, count := "up", n
	if n < 0 {
		way, count = "down", -n
	}
	if count == 1 {
		return "1 tooth " + way
	}
	return fmt.Sprintf("%d teeth %s", count, way)
}
