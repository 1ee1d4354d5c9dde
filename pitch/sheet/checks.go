package sheet

import (
	"slices"

	"example.org/levelhead/pitch/setup"
)

// check looks at one thing, by one of its functions.
type check struct {
	looksAt  string
	machine  func(*bench, *Sheet) []Finding
	mode     func(*bench, setup.Setup, *Mode) []Finding // for each mode
	failed   bool                                       // it looks at modes that do not work, too
	transfer func(*bench, *setup.Transfer) []Finding
	finds    []fact // what it can find, with each severity
}

// checks are all that a sheet looks at, in this order. Those of modes that stand together go
// through one mode after another.
var checks = []check{
	{looksAt: "throttle at low stick and under hold", mode: (*bench).checkThrottle, failed: true,
		finds: []fact{liveUnderHold{}, liveAtLowStick{}}},

	{looksAt: "direction of the servos", machine: (*bench).checkServos,
		finds: []fact{servoReversed{}}},
	{looksAt: "what the controls do to the swashplate", machine: (*bench).checkControls,
		finds: []fact{notHeldAtNeutral{}, controlReversed{}, cyclicAstray{}}},
	{looksAt: "height of the swashplate at neutral", machine: (*bench).checkHeight,
		finds: []fact{neutralHeightOff{}}},
	{looksAt: "servo arms at neutral", machine: (*bench).checkSquare,
		finds: []fact{armOffSquare{}}},

	{looksAt: "targets", mode: (*bench).checkTargets, failed: true,
		finds: []fact{targetOutOfReach{}, targetOutOfReach{works: true}, targetMissed{}}},
	{looksAt: "rotor speed", mode: (*bench).checkSpeedLimits, failed: true,
		finds: []fact{rotorTooFast{}, tipsTooFast{}}},
	{looksAt: "reach over the collective stick", mode: (*bench).checkReach,
		finds: []fact{stickOutOfReach{}, limitUnderCollective{}}},
	{looksAt: "direction of the blade pitch", mode: (*bench).checkSense,
		finds: []fact{pitchReversed{}, pitchDead{}, pitchFalls{}, cyclicReversed{}}},
	{looksAt: "rates", mode: (*bench).checkRates,
		finds: []fact{rateTooHigh{}}},
	{looksAt: "level of the swashplate over the collective stick", mode: (*bench).checkTilt,
		finds: []fact{tiltUnderCollective{}}},
	{looksAt: "scale of the gauge", mode: (*bench).checkGaugeScale,
		finds: []fact{readingOffScale{}, targetOffScale{}}},
	{looksAt: "loads, power and currents", mode: (*bench).checkLoads,
		finds: []fact{loadsUnknown{}, loadsIncomplete{}, servoTooWeak{}, servoTooSlow{}, rotorSpeedNotHeld{}, cannotHover{}, hoverOffStick{}, currentTooHigh{}}},
	{looksAt: "corners of the sticks", mode: (*bench).checkCorners,
		finds: []fact{cornersOutOfReach{}, limitAtCorners{}}},

	{looksAt: "levers, ball links, fights and travel over all sticks", machine: (*bench).checkTravel,
		finds: []fact{armNearDeadCentre{}, ballLinkAngleTooWide{}, servosFight{}, hornNearDeadCentre{}, travelUnused{}}},
	{looksAt: "ratings of the servos", machine: (*bench).checkRated,
		finds: []fact{voltageNotRated{}, servosNotRated{}}},
	{looksAt: "limits of the class", machine: (*bench).checkClassLimits,
		finds: []fact{classMass{}, classDisc{}, classVoltage{}, classNotChecked{}}},
}

// transferChecks are all that a transfer looks at, in this order.
var transferChecks = []check{
	checkOf(LiveUnderHold),
	{looksAt: "phase angles of the two machines", transfer: (*bench).checkPhases,
		finds: []fact{phaseDiffers{}, phaseDiffers{Change: phaseGrave}}},
	{looksAt: "rotation of the two machines", transfer: (*bench).checkRotations,
		finds: []fact{rotationDiffers{}}},
	checkOf(RateTooHigh),
	checkOf(LimitAtCorners),
	{looksAt: "blade pitch between the points of the curve", transfer: (*bench).checkBetweenPoints,
		finds: []fact{curveDiffers{}}},
	{looksAt: "rotor and power train of the two machines", transfer: (*bench).checkPower,
		finds: []fact{throttleCopied{}}},
}

// checkOf returns the check that can find a kind.
func checkOf(k Kind) check {
	at := slices.IndexFunc(checks, func(c check) bool {
		return slices.ContainsFunc(c.finds, func(f fact) bool { return f.finding().Kind == k })
	})
	return checks[at]
}

// check looks through the machine and its worked sheet. The findings come
// gravest first, and else in the order of the work.
func (b *bench) check(s *Sheet) []Finding {
	var found []Finding
	for rest := checks; len(rest) > 0; {
		if rest[0].mode == nil {
			found = append(found, rest[0].machine(b, s)...)
			rest = rest[1:]
			continue
		}
		n := 1
		for n < len(rest) && rest[n].mode != nil {
			n++
		}
		for i := range b.modes {
			for _, c := range rest[:n] {
				found = append(found, c.inMode(b, b.modes[i], &s.Modes[i])...)
			}
		}
		rest = rest[n:]
	}
	slices.SortStableFunc(found, bySeverity)
	return found
}

// inMode looks at one mode, which may not work.
func (c *check) inMode(b *bench, m setup.Setup, s *Mode) []Finding {
	if !c.failed && !m.Works() {
		return nil
	}
	return inMode(m, c.mode(b, m, s))
}

// Check is a thing that a sheet or a transfer looks at.
type Check struct {
	LooksAt string
	// Finds are what can come of it: a kind with one severity and its title each. Where a
	// fault can be more or less grave, its kind is there twice.
	Finds []Finding
}

// Checks returns all that a sheet looks at, in the order of the work, and then what a transfer
// looks at besides.
func Checks() []Check {
	var all []Check
	for _, c := range append(slices.Clone(checks), transferChecks...) {
		if slices.ContainsFunc(all, func(of Check) bool { return of.LooksAt == c.looksAt }) {
			continue
		}
		of := Check{LooksAt: c.looksAt}
		for _, f := range c.finds {
			found := f.finding()
			of.Finds = append(of.Finds, Finding{Kind: found.Kind, Severity: found.Severity, What: found.What})
		}
		all = append(all, of)
	}
	return all
}
