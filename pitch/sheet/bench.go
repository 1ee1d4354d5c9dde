package sheet

import (
	"example.org/levelhead/pitch"
	"example.org/levelhead/pitch/machine"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/units"
)

// errEmpty refuses a rig that setup.Build did not make.
var errEmpty = &units.FieldError{Field: "rig", Words: "sheet: rig", Reason: "is empty; make it with setup.Build"}

// bench is a rig with what the checks ask of it again and again.
type bench struct {
	rig    *setup.Rig
	file   *machine.Machine
	head   *pitch.Head
	limits machine.Limits
	servos []setup.Servo
	parts  setup.Parts
	modes  []setup.Setup
}

func newBench(rig *setup.Rig) *bench {
	return &bench{rig, rig.Machine(), rig.Head(), rig.Limits(), rig.Servos(), rig.Parts(), rig.Modes()}
}
