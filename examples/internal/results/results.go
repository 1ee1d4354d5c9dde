// Package results holds what the examples print with -json: structs that package units/plain
// writes. examples/JSON.md lists their keys.
package results

import (
	"example.org/levelhead/pitch"
	"example.org/levelhead/pitch/choose"
	"example.org/levelhead/pitch/gauge"
	"example.org/levelhead/pitch/load"
	"example.org/levelhead/pitch/machine"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/pitch/sheet"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// About is what every result but a bench sheet begins with.
type About struct {
	Cautions []string `json:"cautions"`
	Machine  string   `json:"machine"`
	Note     string   `json:"note,omitempty"`
}

// Of is what a result about machines begins with. It has the name and the note of the first.
func Of(work sheet.Work, machines ...*machine.Machine) About {
	return About{sheet.Cautions(work, machines...), machines[0].Name, machines[0].Note}
}

// The kinds of results, under the key "what".
const (
	BenchSheet   = "bench sheet"
	GaugeSession = "gauge session"
	PartsChoice  = "parts choice"
	ServoChoice  = "servo comparison"
	ThrottlePlan = "throttle plan"
	TiltMap      = "tilt map"
	Transferred  = "comparison and transfer"
	PlayCompared = "play comparison"
)

// Kinds are the results by their kind.
var Kinds = map[string]any{
	BenchSheet:   sheet.Sheet{},
	GaugeSession: Gauge{},
	PartsChoice:  Parts{},
	ServoChoice:  Servos{},
	ThrottlePlan: Throttle{},
	TiltMap:      Tilt{},
	Transferred:  Transfer{},
	PlayCompared: Play{},
}

// Gauge is what gaugefix prints.
type Gauge struct {
	About
	Given      []gauge.Reading    `json:"given"`
	Misfit     *gauge.MisfitError `json:"misfit"`
	Result     *gauge.Result      `json:"fit"`
	Correction *gauge.Correction  `json:"correction"`
	Plan       *gauge.Plan        `json:"plan"`
}

// Parts is what holes prints.
type Parts struct {
	About
	*choose.Choice
}

// Servos is what servopick prints.
type Servos struct {
	About
	Mode     string             `json:"mode"`
	Voltage  units.Voltage      `json:"servo_voltage"`
	Speed    units.AngularSpeed `json:"rotor_speed"`
	Demand   *load.Demand       `json:"demand"`
	Compared []ComparedServo    `json:"candidates"`
	Arms     []Arm              `json:"arm_holes"`
}

// ComparedServo is one kind of servo in the machine.
type ComparedServo struct {
	Name string `json:"name"`
	Own  bool   `json:"own"`
	*load.Performance
	Stiffness units.Torque `json:"moment_per_radian"`
	Verdict   string       `json:"suits"`
}

// Arm is another hole of the servo arms.
type Arm struct {
	Radius      units.Length      `json:"arm_radius"`
	Unreachable string            `json:"unreachable,omitempty"`
	Rates       swash.Rates       `json:"rates" plain:"without=Unreachable"`
	Step        units.Angle       `json:"pulse_step" plain:"without=Unreachable"`
	Performance *load.Performance `json:"performance"`
	Stiffness   units.Torque      `json:"moment_per_radian" plain:"without=Unreachable"`
	Findings    []sheet.Finding   `json:"findings"`
}

// Throttle is what throttleplan prints.
type Throttle struct {
	About
	Supplies []Supply       `json:"supplies"`
	Modes    []ThrottleMode `json:"modes"`
}

// Supply is the power train that the figures are for: for each supply there is one in every
// list of a stick position.
type Supply struct {
	Charge *units.Ratio `json:"charge"` // nil for an engine
}

// ThrottleMode is a flight mode over the collective stick.
type ThrottleMode struct {
	Name      string             `json:"name"`
	None      string             `json:"no_plan,omitempty"`
	Speed     units.AngularSpeed `json:"rotor_speed" plain:"without=None"`
	TipSpeed  units.Velocity     `json:"tip_speed" plain:"without=None"`
	Lasts     *units.Ratio       `json:"holds_down_to"`
	CannotFly error              `json:"cannot_hover"`
	Hover     []load.Hover       `json:"hover_by_supply"`
	Points    []ThrottlePoint    `json:"stick_positions"`
}

// ThrottlePoint is a position of the collective stick.
type ThrottlePoint struct {
	Stick       units.Ratio `json:"stick"`
	Pitch       units.Angle `json:"pitch" plain:"without=Unreachable"`
	Own         units.Ratio `json:"own_throttle" plain:"without=Unreachable"`
	Held        []load.Held `json:"held_by_supply"`
	Unreachable string      `json:"unreachable,omitempty"`
}

// Tilt is what tiltmap prints.
type Tilt struct {
	About
	Mode    string       `json:"mode"`
	Servo   string       `json:"servo"`
	Changes []TiltChange `json:"travel_changes"`
}

// TiltChange is one change of travel, made in two ways.
type TiltChange struct {
	Factor    units.Ratio `json:"factor"`
	EndPoints []setup.Row `json:"end_point_rows"`
	Rate      []setup.Row `json:"rate_rows"`
}

// Transfer is what transfer prints.
type Transfer struct {
	About
	Compared *setup.Comparison `json:"compared"`
	Transfer *sheet.Transfer   `json:"transfer"`
	There    *setup.Comparison `json:"compared_there"`
	Failed   error             `json:"cannot_transfer"`
}

// Play is what playcompare prints.
type Play struct {
	Cautions []string    `json:"cautions"`
	Seed     uint64      `json:"seed"`
	Builds   int         `json:"builds"`
	A        PlayMachine `json:"a"`
	B        PlayMachine `json:"b"`
}

// PlayMachine is one of the two machines.
type PlayMachine struct {
	Machine string       `json:"machine"`
	Note    string       `json:"note,omitempty"`
	Play    machine.Play `json:"joint_play"`
	Worst   pitch.Play   `json:"worst_case"`
	Likely  pitch.Play   `json:"likely"`
	Random  pitch.Spread `json:"random"`
	Joints  pitch.Joints `json:"joints"`
}
