package sheet

// Kind is the fault that a finding is about, or the thing worth knowing. Switch on it: what a
// Kind says stays, while the words of a finding can change.
type Kind string

// The kinds, in the order in which a sheet looks for them. Checks lists what is looked at.
const (
	LiveUnderHold        Kind = "live throttle under hold"
	LiveAtLowStick       Kind = "live throttle at low stick"
	ServoReversed        Kind = "servo reversed"
	NotHeldAtNeutral     Kind = "swashplate not held at neutral"
	ControlReversed      Kind = "control reversed or dead"
	CyclicAstray         Kind = "cyclic tilt to another side"
	NeutralHeightOff     Kind = "neutral height against links"
	ArmOffSquare         Kind = "servo arm off square"
	TargetOutOfReach     Kind = "target out of reach"
	TargetMissed         Kind = "target missed"
	RotorTooFast         Kind = "rotor too fast for its blades"
	TipsTooFast          Kind = "blade tips too fast"
	StickOutOfReach      Kind = "stick position out of reach"
	LimitUnderCollective Kind = "servo limit under collective"
	PitchReversed        Kind = "blade pitch reversed"
	PitchDead            Kind = "stick without effect on blade pitch"
	PitchFalls           Kind = "blade pitch falls on the way up"
	CyclicReversed       Kind = "cyclic reversed"
	RateTooHigh          Kind = "rate too high"
	TiltUnderCollective  Kind = "swashplate tilt under collective"
	ReadingOffScale      Kind = "reading off the gauge's scale"
	TargetOffScale       Kind = "target off the gauge's scale"
	LoadsUnknown         Kind = "loads unknown"
	LoadsIncomplete      Kind = "loads incomplete"
	ServoTooWeak         Kind = "servo too weak"
	ServoTooSlow         Kind = "servo too slow"
	RotorSpeedNotHeld    Kind = "rotor speed not held"
	CannotHover          Kind = "mass too large to hover"
	HoverOffStick        Kind = "hover off the stick"
	CurrentTooHigh       Kind = "current too high"
	CornersOutOfReach    Kind = "stick corners out of reach"
	LimitAtCorners       Kind = "servo limit at stick corners"
	ArmNearDeadCentre    Kind = "servo arm near a dead centre"
	BallLinkAngleTooWide Kind = "ball-link angle too wide"
	ServosFight          Kind = "servos fight"
	HornNearDeadCentre   Kind = "pitch horn near a dead centre"
	TravelUnused         Kind = "servo travel unused"
	VoltageNotRated      Kind = "servo voltage not rated"
	ServosNotRated       Kind = "servos not rated"
	ClassMass            Kind = "mass above class limit"
	ClassDisc            Kind = "rotor disc above class limit"
	ClassVoltage         Kind = "battery voltage above class limit"
	ClassNotChecked      Kind = "class limits not checked"
)

// The kinds of a transfer alone.
const (
	PhaseDiffers    Kind = "phase angle differs"
	RotationDiffers Kind = "rotation differs"
	CurveDiffers    Kind = "blade pitch differs between points"
	ThrottleCopied  Kind = "throttle curve of another machine"
)
