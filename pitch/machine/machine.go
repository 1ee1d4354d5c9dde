package machine

import (
	"reflect"

	"example.org/levelhead/curve"
	"example.org/levelhead/pitch"
	"example.org/levelhead/servo"
	"example.org/levelhead/servo/linkage"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// Machine is a machine file: the geometry, the servos, the radio and the flight
// modes. Lengths, angles and the like are text with a unit in the file, as
// package units reads them. A field tagged omitempty may be left out.
type Machine struct {
	Format int                  `json:"format"` // Format, and no other
	Name   string               `json:"name"`
	Note   string               `json:"note,omitempty"`
	Plate  Plate                `json:"plate"`
	Servos map[string]ServoType `json:"servos"` // types of servo, by a name of the owner's choice
	Radio  Radio                `json:"radio"`
	Head   Head                 `json:"head"`
	Gauge  Gauge                `json:"gauge"`
	Limits *Limits              `json:"limits,omitempty"` // nil is DefaultLimits
	Play   *Play                `json:"play,omitempty"`   // nil is not known

	// What follows is for loads, and may be left out.
	ServoVoltage *units.Voltage `json:"servo_voltage,omitempty"`
	Rotor        *Rotor         `json:"rotor,omitempty"`
	Power        *Power         `json:"power,omitempty"`
	Mass         *units.Mass    `json:"mass,omitempty"`  // of the machine, ready to fly
	Field        *Field         `json:"field,omitempty"` // nil is the standard atmosphere at the sea
	Class        Class          `json:"class,omitempty"` // of competition, to be checked for

	Modes []Mode `json:"modes"`

	lines map[string]int // of the fields, where the machine came from a file
}

// Plate is the swashplate and what moves it: legs, each a servo with its link, or bell
// cranks.
type Plate struct {
	// NeutralHeight is that of the plate's centre, all arms neutral. Upright legs are
	// drawn for it, and bell cranks move the plate from it. Legs by true positions
	// have a neutral height of their own, near it; a finding tells where they differ.
	NeutralHeight units.Length   `json:"neutral_height"`
	Guide         *units.Angle   `json:"guide,omitempty"` // where the anti-rotation guide stands: its direction from the nose; nil is none. It is refused with bell cranks, which set the tilt themselves
	LinkThread    linkage.Thread `json:"link_thread"`     // of the ends of its links
	Legs          []Leg          `json:"legs,omitempty"`
	BellCranks    *BellCranks    `json:"bell_cranks,omitempty"`
}

// BellCranks move the plate with one servo for each control.
type BellCranks struct {
	Collective CrankChain `json:"collective"` // its last member gives the plate's rise
	Right      CrankChain `json:"right"`      // its last member gives the tilt to the right
	Forward    CrankChain `json:"forward"`    // its last member gives the tilt forward
}

// CrankChain is one servo and the linkages behind its arm, first to last.
type CrankChain struct {
	Servo ServoOfALeg `json:"servo"`
	Chain []Member    `json:"chain"`
}

// ServoType is what servos of one type have in common.
type ServoType struct {
	Neutral  units.PulseWidth `json:"neutral"`
	Throw    units.PulseWidth `json:"throw"`  // of pulse, at 100 %
	Travel   units.Angle      `json:"travel"` // of the arm, for that throw
	Min      units.PulseWidth `json:"shortest_pulse"`
	Max      units.PulseWidth `json:"longest_pulse"`
	Spline   servo.Spline     `json:"spline_teeth"`
	ArmHoles []units.Length   `json:"arm_holes,omitempty"` // radii the arm offers
	Rating   *Rating          `json:"rating,omitempty"`
}

// Raises tells which pulses raise a servo's ball.
type Raises string

// The senses of a servo as it is mounted.
const (
	LongerPulses  Raises = "longer"
	ShorterPulses Raises = "shorter"
)

// ServoOfALeg is the servo of a leg, or of a bell-crank chain: how it is mounted, and how the
// radio is set for it.
type ServoOfALeg struct {
	Type    string           `json:"type"`
	Raises  Raises           `json:"raises_on"` // longer or shorter pulses
	Reverse bool             `json:"reverse"`
	SubTrim units.PulseWidth `json:"sub_trim,omitempty"`
	Mount   units.Angle      `json:"mount,omitempty"` // by how much the arm at neutral pulse is off its drawn direction; above 0 is ball high
	Low     *units.Ratio     `json:"low_end_point,omitempty"`
	High    *units.Ratio     `json:"high_end_point,omitempty"`
}

// Radio is what the radio can resolve, and how it mixes.
type Radio struct {
	// PulseStep is the least change of a pulse. Pulses are whole steps away from the
	// servo type's neutral pulse, sub-trim included. 0 s is stepless.
	PulseStep   units.PulseWidth `json:"pulse_step"`
	PercentStep units.Ratio      `json:"percent_step"` // of rates and curve points, 0.01 % or more
	// RateLimit is the largest rate that the radio takes, of collective and of cyclic
	// alike; left out, it is 100 %. Mixing can make commands beyond ±100 %; they count up to the
	// pulse limits.
	RateLimit *units.Ratio `json:"rate_limit,omitempty"`
	// Mixing is "layout", by the balls' bearings and radii as is common
	// practice; "geometry", by the plate's true geometry; "one each", a servo
	// for each control, on bell cranks; or "rows", as given in MixRows.
	Mixing  Mixing   `json:"mixing"`
	MixRows []MixRow `json:"mix_rows,omitempty"`
}

// Mixing names where the mixing matrix comes from.
type Mixing string

// The sources of a mixing matrix.
const (
	MixByLayout   Mixing = "layout"
	MixByGeometry Mixing = "geometry"
	MixOneEach    Mixing = "one each"
	MixByRows     Mixing = "rows"
)

// MixRow is one servo's share of the controls: its command for the whole of each.
type MixRow struct {
	Collective units.Ratio `json:"collective"`
	Right      units.Ratio `json:"right"`
	Forward    units.Ratio `json:"forward"`
}

// Head is the rotating side: the ring of the swashplate that turns with the rotor, the
// pitch link and the pitch horn of a blade. The quantities are those of pitch.GripSpec.
type Head struct {
	Rotation   pitch.Rotation `json:"rotation"`       // of the rotor, seen from above
	Horn       pitch.Side     `json:"horn_side"`      // of the blade on which the pitch horn is
	HornRadius units.Length   `json:"horn_radius"`    // from the feathering axis to its ball
	HornX      units.Length   `json:"horn_from_mast"` // along the blade
	HubHeight  units.Length   `json:"hub_height"`     // of the feathering axis
	RestAngle  units.Angle    `json:"rest_angle,omitempty"`
	RingRadius units.Length   `json:"ring_radius"`
	RingOffset units.Length   `json:"ring_offset,omitempty"` // of the ring's balls along the plate's normal, above 0 over its centre
	Phase      units.Angle    `json:"phase"`                 // phase angle: the bearing of the ring's ball minus that of the blade
	RingDriver units.Angle    `json:"ring_driver"`           // the bearing of the ring driver (scissors, washout driver) minus that of the blade
	// Link is the pitch link's length. Left out, it is cut so that the blade
	// stands at zero, with the horn at its rest angle, on the level plate at the
	// height that the servo links make with all arms neutral. Where that is not
	// Plate.NeutralHeight, the blade is not at zero at the latter.
	Link       *units.Length  `json:"link,omitempty"`
	LinkThread linkage.Thread `json:"link_thread"`
	MixingArm  *MixingArm     `json:"mixing_arm,omitempty"` // of a flybar head; nil is none
}

// MixingArm is the mixing arm of a flybar head, as in pitch.MixingArm.
type MixingArm struct {
	PlateSide  units.Length `json:"plate_side"`
	BarSide    units.Length `json:"bar_side"`
	BarRadius  units.Length `json:"bar_radius,omitempty"`
	WashoutIn  units.Length `json:"washout_in,omitempty"`
	WashoutOut units.Length `json:"washout_out,omitempty"`
}

// Gauge is the pitch gauge, and where the blade stands while it is read.
type Gauge struct {
	Bearing units.Angle `json:"blade_bearing"`
	Low     units.Angle `json:"low"`
	High    units.Angle `json:"high"`
	Step    units.Angle `json:"step"` // the smallest difference it shows
}

// Limits are the limits beyond which there are findings. In a file, those left out are
// the default ones.
type Limits struct {
	Tilt          units.Angle    `json:"tilt,omitempty"`            // of the plate under collective alone
	OffSquare     units.Angle    `json:"off_square,omitempty"`      // of an arm to its link at neutral
	BallLinkAngle units.Angle    `json:"ball_link_angle,omitempty"` // of a ball link, out of the plane in which its arm turns
	DeadCentre    units.Angle    `json:"dead_centre,omitempty"`     // least angle between an arm and a link in its plane: the lever of every link must be at least the sine of it, as a part of the arm
	LeastUse      units.Ratio    `json:"least_use,omitempty"`       // of a servo's travel, over all stick corners
	LiveAbove     units.Ratio    `json:"live_above,omitempty"`      // throttle above which the rotor can turn
	PitchError    units.Angle    `json:"pitch_error,omitempty"`     // of a target
	Strain        units.Length   `json:"strain,omitempty"`          // of a link whose servos fight
	ServoLoad     units.Ratio    `json:"servo_load,omitempty"`      // largest load of a servo, as a share of its stall torque
	Stroke        units.Time     `json:"stroke,omitempty"`          // of the full collective stick
	TipSpeed      units.Velocity `json:"tip_speed,omitempty"`       // of the blades
}

// DefaultLimits are the limits where a machine file gives none. They are common
// practice, no source.
func DefaultLimits() Limits {
	return Limits{
		Tilt:          0.3 * units.Degree,
		OffSquare:     3 * units.Degree,
		BallLinkAngle: 20 * units.Degree,
		DeadCentre:    25 * units.Degree,
		LeastUse:      60 * units.Percent,
		LiveAbove:     0,
		PitchError:    0.25 * units.Degree,
		Strain:        0.1 * units.Millimetre,
		ServoLoad:     50 * units.Percent,
		Stroke:        250 * units.Millisecond,
		TipSpeed:      190 * units.MetrePerSecond,
	}
}

// setDefaults is called before the fields that a file gives are read.
func (l *Limits) setDefaults() { *l = DefaultLimits() }

// Mode is one flight mode. Rates and Pitch may be left out where Targets are
// given: they are then solved for.
type Mode struct {
	Name         string       `json:"name"`
	Rates        *swash.Rates `json:"rates,omitempty"`
	Expo         units.Ratio  `json:"expo,omitempty"`
	Pitch        *Curve       `json:"pitch,omitempty"`
	Throttle     Curve        `json:"throttle"`
	ThrottleHold units.Ratio  `json:"throttle_hold"`              // throttle while hold is on
	Held         bool         `json:"throttle_hold_on,omitempty"` // in this mode
	Targets      *Targets     `json:"targets,omitempty"`
	// RotorSpeed is the speed that the mode must hold; left out, no loads are worked
	// out for it.
	RotorSpeed *units.AngularSpeed `json:"rotor_speed,omitempty"`
}

// Curve is a stick curve: pairs of stick position, 0 % to 100 %, and value.
type Curve struct {
	Kind   curve.Kind       `json:"kind"`
	Points [][2]units.Ratio `json:"points"`
}

// Targets are what the gauge should read.
type Targets struct {
	Kind       curve.Kind  `json:"kind"` // of the pitch curve
	Collective []Target    `json:"collective"`
	Cyclic     units.Angle `json:"cyclic"` // amplitude that full right and full forward stick add at mid collective stick
}

// Target is a gauge reading at a stick position.
type Target = pitch.Target

// Parse reads a machine file, and validates it. The error is a *FieldError with the path of
// the field and its line; its cause is a *CountError where there is more of something than a
// file may hold, and a *RangeError where a number is out of range.
func Parse(data []byte) (*Machine, error) {
	tree, err := readTree(data)
	if err != nil {
		return nil, err
	}
	if err := tree.checkFormat(); err != nil {
		return nil, err
	}
	b := binder{lines: map[string]int{}}
	m := new(Machine)
	if err := b.bind(tree, reflect.ValueOf(m).Elem(), ""); err != nil {
		return nil, err
	}
	m.lines = b.lines
	if err := m.Validate(); err != nil {
		return nil, err
	}
	return m, nil
}
