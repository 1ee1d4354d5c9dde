package sheet

import (
	"fmt"

	"example.org/levelhead/curve"
	"example.org/levelhead/pitch"
	"example.org/levelhead/pitch/machine"
	"example.org/levelhead/units"
)

type phaseDiffers struct {
	Place
	PhaseFrom units.Angle // on the other machine
	PhaseTo   units.Angle // here
	Change    units.Angle
	from      string // the other machine
}

func (f phaseDiffers) finding() Finding {
	severity := Fix
	if amount(f.Change) >= phaseGrave {
		severity = Stop
	}
	return Finding{Kind: PhaseDiffers, Severity: severity, What: "Cyclic acts in another direction",
		Figure: fmt.Sprintf("at %s the phase angle is %.1f° here, and %.1f° on %s: a change of %+.1f°", f.stick().Cyclic(), f.PhaseTo.Degrees(), f.PhaseFrom.Degrees(), f.from, f.Change.Degrees()),
		Do:     "Check the phase angle of the rotating ring, the side of the pitch horn and the cyclic signs of the mixing. Rates do not cure it."}
}

type rotationDiffers struct {
	from      string // the other machine
	its, here pitch.Rotation
}

func (f rotationDiffers) finding() Finding {
	return Finding{Kind: RotationDiffers, Severity: Note, What: "The rotors turn opposite ways",
		Figure: fmt.Sprintf("%s on %s, %s here", f.its, f.from, f.here),
		Do:     "Set up the tail rotor by itself. Cyclic is compared as each rotor turns, not with the blades at the same side of the machine."}
}

type curveDiffers struct {
	Place
	Off           units.Angle
	HalfGaugeStep units.Angle
	Enough        *int // points to come within HalfGaugeStep; nil where no curve does
}

func (f curveDiffers) finding() Finding {
	do := fmt.Sprintf("Accept it, or set more points by hand. No curve of up to %d points comes within that.", curve.MaxPoints)
	if f.Enough != nil {
		do = fmt.Sprintf("Use a curve of %d points to come within that.", *f.Enough)
	}
	return Finding{Kind: CurveDiffers, Severity: Note, What: "Blade pitch differs between the points of the curve",
		Figure: fmt.Sprintf("by %+.2f° at stick %v; half a gauge step is %.2f°", f.Off.Degrees(), units.Ratio(f.stick().Collective), f.HalfGaugeStep.Degrees()), Do: do}
}

type throttleCopied struct {
	from string // the other machine
	file *machine.Machine
}

func (f throttleCopied) finding() Finding {
	return Finding{Kind: ThrottleCopied, Severity: Fix, What: "The throttle curve comes from another machine",
		Figure: "copied as it is from " + f.from,
		Do:     "Keep it only if power train and rotor are equal. Otherwise make a new one before " + alive(f.file) + "."}
}
