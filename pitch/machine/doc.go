// Package machine is the machine file of a model helicopter's rotor head: its fields, how it
// is read, and what is refused in it.
//
//	m, err := machine.Parse(data)     // the bytes of the file
//	rig, err := setup.Build(m)        // the machine, ready to be asked
//
// A machine file is JSON. It holds the swashplate and the servos below it, the head above
// it, what the radio can set, the pitch gauge, and up to [MaxModes] flight modes. The
// package's example shows a whole small file; [Machine] and the types in it say what each
// field is. Quantities are text with a unit, such as "12.5 mm" or "-3.5°", as package
// units reads them. A field that is missing, unknown or given twice is an error, which
// names the field and its line; so are numbers out of range, and more legs, points and the
// like than [MaxFile] and its neighbours allow.
//
// A file says "format": 1. One of a newer format is refused, for its fields can mean something
// else; one without a format is told to add it.
//
// A flight mode gives either its rates and pitch curve, or targets: what the gauge should
// read at some stick positions, and how much cyclic pitch the blade should have. Rates and
// curve points then follow from the targets. A mode that gives both is checked against its
// targets.
//
// A file can also hold the rotor, what turns it, and the ratings of the servos: for loads.
//
// # Conventions
//
// A bearing is a direction from the mast, counted from the nose, clockwise seen from above:
// nose 0°, right 90°, tail 180°, left 270°. Pitch is positive with the leading edge up. The
// collective stick runs from 0 % to 100 %.
//
// Nothing in a Machine is guarded: one that several goroutines share must not be changed.
package machine
