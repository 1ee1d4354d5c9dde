// Package setup reads a machine file and works out what to set up on a model helicopter's
// rotor head: what to enter in the radio, what the pitch gauge should then read, and what
// is wrong. Start here if you have a machine, and not only one part of it:
//
//	m, err := setup.Parse(data) // the machine file
//	rig, err := m.Build()       // the machine, ready to be asked
//	sheet, err := rig.Sheet()   // all that a bench sheet says
//	fmt.Println(sheet.Findings) // what is wrong, the gravest first
//
// A machine file is JSON. It holds the swashplate and the servos below it, the head above
// it, what the radio can set, the pitch gauge, and up to [MaxModes] flight modes. The
// package's example shows a whole small file; [Machine] and the types in it say what each
// field is. Quantities are text with a unit, such as "12.5 mm" or "-3.5°", as package
// units reads them. A field that is missing, unknown or given twice is an error, which
// names the field and its line; so are more legs, points and the like than [MaxFile] and
// its neighbours allow.
//
// A flight mode gives either its rates and pitch curve, or targets: what the gauge should
// read at some stick positions, and how much cyclic pitch the blade should have. Rates and
// curve points then follow from the targets. A mode that gives both is checked against its
// targets.
//
// # Conventions
//
// A bearing is a direction from the mast, counted from the nose, clockwise seen from above:
// nose 0°, right 90°, tail 180°, left 270°. Pitch is positive with the leading edge up. The
// collective stick runs from 0 % to 100 %.
//
// # Loads
//
// A file can also hold the rotor, what turns it, and the ratings of the servos. A mode with
// a rotor speed is then worked out under load: what each servo holds, how far blade and
// plate yield, how the machine hovers, and which throttle holds the speed. Package
// pitch/rotor says how accurate that is.
//
// # Two setups
//
// [Compare] tells two setups apart in degrees at the blade. [Setup.Transfer] finds the
// rates and the curve that give another machine the same blade pitch.
//
// # Findings
//
// A finding is a stop, a fix or a note. The gravest are a throttle that is live at low stick
// or under hold, and a rotor speed above what the blades are made for.
//
// # Accuracy
//
// Solved values meet a target within 1e-9 degree before they are rounded to the radio's
// steps. So do those of a transfer, at the points of its curve. [Solution] says what the
// steps leave. Quantities on a sheet are rounded to a millionth of the unit they are
// written in.
package setup
