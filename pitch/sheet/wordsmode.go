package sheet

import (
	"fmt"
	"math"
	"strings"

	"example.org/levelhead/pitch/internal/words"
	"example.org/levelhead/pitch/machine"
	"example.org/levelhead/units"
)

type liveUnderHold struct {
	Throttle units.Ratio
	Limit    units.Ratio
}

func (f liveUnderHold) finding() Finding {
	return Finding{Kind: LiveUnderHold, Severity: Stop, What: "Live throttle under hold",
		Figure: fmt.Sprintf("throttle hold gives %v; any throttle above %v can turn the rotor", f.Throttle, f.Limit),
		Do:     fmt.Sprintf("Set the hold throttle to %v. Take the blades off. Then check that hold keeps the rotor still.", f.Limit)}
}

type liveAtLowStick struct {
	Place
	Throttle units.Ratio
	Limit    units.Ratio
	first    bool // the model starts in this mode
	file     *machine.Machine
}

func (f liveAtLowStick) finding() Finding {
	do := fmt.Sprintf("Bring the low end of the throttle curve to %v", f.Limit)
	if f.first {
		do += " before " + alive(f.file) + "."
	} else {
		do += ". If this mode needs throttle there, select it only in flight. On the ground, keep throttle hold on and keep " + dead(f.file) + "."
	}
	return Finding{Kind: LiveAtLowStick, Severity: Stop, What: "Live throttle at low stick",
		Figure: fmt.Sprintf("at low stick the throttle is %v; any throttle above %v can turn the rotor", f.Throttle, f.Limit), Do: do}
}

type targetOutOfReach struct {
	Wanted, Nearest *units.Angle // nil where it is not a target that stops it
	why             string
	works           bool // the mode does
}

func (f targetOutOfReach) finding() Finding {
	severity, do := Fix, "Ask for less pitch, or change the servo arms, the pitch horn or the links. No rate can give it."
	if !f.works {
		severity, do = Stop, do+" Until then there is nothing to enter for this mode."
	}
	return Finding{Kind: TargetOutOfReach, Severity: severity, What: "Target beyond the geometry", Figure: f.why, Do: do}
}

type targetMissed struct {
	Place
	Reads  units.Angle // on the gauge, or the cyclic pitch
	Wanted units.Angle
	Off    units.Angle // Reads minus Wanted
	Limit  units.Angle
	solved bool // the mode's rates and curve follow from its targets
}

func (f targetMissed) finding() Finding {
	figure := fmt.Sprintf("the gauge reads %.2f° at stick %v", f.Reads.Degrees(), units.Ratio(f.stick().Collective))
	if at := f.stick(); at.Right != 0 || at.Forward != 0 {
		figure = fmt.Sprintf("cyclic pitch is %.2f° at %s", f.Reads.Degrees(), at.Cyclic())
	}
	do := "Enter the rates and curve points that the sheet gives for this mode's targets."
	if f.solved {
		do = "Use finer radio steps, or a geometry that needs more rate. The radio's steps are too coarse for this target."
	}
	return Finding{Kind: TargetMissed, Severity: Fix, What: "Pitch target missed",
		Figure: fmt.Sprintf("%s; wanted %.2f°, off by %+.2f° (%s)", figure, f.Wanted.Degrees(), f.Off.Degrees(), machine.LimitText(f.Limit, ours.PitchError)), Do: do}
}

type stickOutOfReach struct {
	Place
	why string
}

func (f stickOutOfReach) finding() Finding {
	return Finding{Kind: StickOutOfReach, Severity: Stop, What: "Stick position that the machine cannot reach",
		Figure: fmt.Sprintf("at stick %v: %s", units.Ratio(f.stick().Collective), f.why),
		Do:     "Lower the collective rate, or the pitch curve there, until the machine reaches it."}
}

type limitUnderCollective struct {
	Place
	Beyond units.PulseWidth // what the servo would need beyond its limit, with its sign
}

func (f limitUnderCollective) finding() Finding {
	return Finding{Kind: LimitUnderCollective, Severity: Fix, What: "Servo reaches its limit under collective alone",
		Figure: fmt.Sprintf("servo %s would need %.0f µs beyond its pulse limit, at stick %v", f.Servo, math.Abs(f.Beyond.Microseconds()), units.Ratio(f.stick().Collective)),
		Do:     "Lower the collective rate, or the pitch curve there. Beyond its limit a servo stands still, and the swashplate tilts in a wrong direction."}
}

// ends are what the gauge reads at the ends of the collective stick.
type ends struct {
	LowStick  units.Angle
	HighStick units.Angle
}

func (f ends) figure() string {
	return fmt.Sprintf("the gauge reads %+.2f° at low stick and %+.2f° at high stick", f.LowStick.Degrees(), f.HighStick.Degrees())
}

type pitchReversed struct{ ends }

func (f pitchReversed) finding() Finding {
	return Finding{Kind: PitchReversed, Severity: Stop, What: "Blade pitch does not rise with the stick", Figure: f.figure(),
		Do: "Check the side of the pitch horn, the rotor's direction and the sign of the collective rate. Never fly a machine whose collective is reversed."}
}

type pitchDead struct{ ends }

func (f pitchDead) finding() Finding {
	return Finding{Kind: PitchDead, Severity: Stop, What: "The stick does not change blade pitch", Figure: f.figure(),
		Do: "Give the mode a collective rate and a curve that rises."}
}

type pitchFalls struct {
	FromStick units.Ratio
	From      units.Angle
	ToStick   units.Ratio
	To        units.Angle
}

func (f pitchFalls) finding() Finding {
	return Finding{Kind: PitchFalls, Severity: Fix, What: "Blade pitch falls on the way up the stick",
		Figure: fmt.Sprintf("from %.2f° at stick %v to %.2f° at stick %v", f.From.Degrees(), f.FromStick, f.To.Degrees(), f.ToStick),
		Do:     "Let the pitch curve rise all the way. Where it falls, more stick gives less lift."}
}

type cyclicReversed struct {
	Place
	MostAt units.Angle // where the blade has most pitch: its direction from the nose
	Wanted units.Angle // where it should have it, about
}

func (f cyclicReversed) finding() Finding {
	return Finding{Kind: CyclicReversed, Severity: Stop, What: "Cyclic steers the wrong way",
		Figure: fmt.Sprintf("%s gives most pitch with the blade over the %s; it should be about over the %s", f.stick().Cyclic(), words.Direction(f.MostAt), words.Direction(f.Wanted)),
		Do:     "Check the rotor's direction, the side of the pitch horn, the phase angle of the rotating ring and the signs of the cyclic rates."}
}

type rateTooHigh struct {
	Place
	Rate  units.Ratio
	Limit units.Ratio
	whose string // the limit is
}

func (f rateTooHigh) finding() Finding {
	return Finding{Kind: RateTooHigh, Severity: Fix, What: "Rate beyond the radio's limit",
		Figure: fmt.Sprintf("%s rate %v (%s)", f.Control, units.Round(f.Rate, 1), f.whose),
		Do:     "Use a longer servo arm or a shorter pitch horn: less rate then gives the same pitch. Or ask for less pitch."}
}

// tiltUnderCollective names the servo that causes most of the tilt, and how it is unlike the
// others, where that can be told.
type tiltUnderCollective struct {
	Place
	Tilt    units.Angle
	LowSide units.Angle
	Limit   units.Angle
	ArmOff  *units.Angle // how much higher the servo's arm is than a level plate needs
	LowEnd  *units.Ratio // the end points, where another servo's differ
	HighEnd *units.Ratio
	SubTrim *units.PulseWidth // where it is not 0
	Mount   *units.Angle      // where it is not 0
}

func (f tiltUnderCollective) finding() Finding {
	figure := fmt.Sprintf("%.2f° (%s) at stick %v, low side towards the %s",
		f.Tilt.Degrees(), machine.LimitText(f.Limit, ours.Tilt), units.Ratio(f.stick().Collective), words.Direction(f.LowSide))
	do := "Level the plate at neutral with the links. Set travel with the rates."
	if f.ArmOff != nil {
		level := "lower"
		if *f.ArmOff > 0 {
			level = "higher"
		}
		figure += fmt.Sprintf(". Most of it comes from servo %s. Its arm is %.1f° %s than a level plate needs", f.Servo, math.Abs(f.ArmOff.Degrees()), level)
		do = f.cure()
	}
	return Finding{Kind: TiltUnderCollective, Severity: Fix, What: "Swashplate tilts under collective alone", Figure: figure, Do: do}
}

// cure says what to do about the servo, and in what it is unlike the others.
func (f tiltUnderCollective) cure() string {
	var unlike []string
	if f.LowEnd != nil {
		unlike = append(unlike, fmt.Sprintf("the end points are %v and %v", *f.LowEnd, *f.HighEnd))
	}
	if f.SubTrim != nil {
		unlike = append(unlike, "the sub-trim is "+signed(*f.SubTrim))
	}
	if f.Mount != nil {
		unlike = append(unlike, fmt.Sprintf("the arm is mounted %v off", *f.Mount))
	}
	if len(unlike) == 0 {
		return "Compare the link length, the arm radius and the ball radius of servo " + f.Servo + " with the others. Level the plate at neutral with its link, never with an end point."
	}
	return "Set all servos alike. On servo " + f.Servo + " " + strings.Join(unlike, ", ") + ". Square its arm. Level the plate with its link. Set travel with the rates."
}

// scale is how far the gauge goes.
type scale struct {
	ScaleLow  units.Angle
	ScaleHigh units.Angle
}

func (s scale) words() string {
	return fmt.Sprintf("the gauge goes from %.0f° to %.0f°", s.ScaleLow.Degrees(), s.ScaleHigh.Degrees())
}

type readingOffScale struct {
	Place
	Reads units.Angle
	scale
}

func (f readingOffScale) finding() Finding {
	return Finding{Kind: ReadingOffScale, Severity: Note, What: "Reading beyond the gauge's scale",
		Figure: fmt.Sprintf("%.2f° at stick %v; %s", f.Reads.Degrees(), units.Ratio(f.stick().Collective), f.words()),
		Do:     "Check this point with a gauge of a wider scale. Or set it by the curve, from points that the gauge can show."}
}

type targetOffScale struct {
	Place
	Wanted units.Angle
	scale
}

func (f targetOffScale) finding() Finding {
	return Finding{Kind: TargetOffScale, Severity: Note, What: "Target beyond the gauge's scale",
		Figure: fmt.Sprintf("%.2f° wanted at stick %v; %s", f.Wanted.Degrees(), units.Ratio(f.stick().Collective), f.words()),
		Do:     "Use a gauge of a wider scale to check this target."}
}

type cornersOutOfReach struct {
	OutOfReach int
	Corners    int
	each       []string // with the reason
}

func (f cornersOutOfReach) finding() Finding {
	return Finding{Kind: CornersOutOfReach, Severity: Fix, What: "Stick corners that the machine cannot reach",
		Figure: fmt.Sprintf("%d of %d corners: %s", f.OutOfReach, f.Corners, strings.Join(f.each, "; ")),
		Do:     "Lower the cyclic rates, or the collective rate, until the machine reaches them."}
}

// limitAtCorners is at the corner where a servo would need most beyond its limit.
type limitAtCorners struct {
	Place
	Beyond  units.PulseWidth // with its sign
	Limited int
	Corners int
	worst   string // the corner
}

func (f limitAtCorners) finding() Finding {
	return Finding{Kind: LimitAtCorners, Severity: Fix, What: "Servo reaches its limit at stick corners",
		Figure: fmt.Sprintf("%d of %d corners. At the worst, %s, servo %s would need %.0f µs beyond its pulse limit", f.Limited, f.Corners, f.worst, f.Servo, math.Abs(f.Beyond.Microseconds())),
		Do:     "Lower the cyclic rates, or limit the cyclic stick to a circle (cyclic ring). At these corners the swashplate tilts in a wrong direction."}
}
