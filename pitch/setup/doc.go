// Package setup reads a machine file and works out all that a bench sheet says.
//
// A machine file is JSON. It holds the geometry, the servos, what the radio can
// resolve, the pitch gauge, and up to [MaxModes] flight modes. Quantities are text
// with a unit, such as "12.5 mm" or "-3.5°", as package units reads them. Fields that
// are missing, unknown or given twice are refused, with the path of the field and
// its line, and so are more legs, points and the like than [MaxFile] and its
// neighbours allow.
//
//	m, err := setup.Parse(data) // the file
//	rig, err := m.Build()       // the machine, ready to be asked
//	sheet, err := rig.Sheet()   // all that a sheet says
//
// A flight mode either gives its rates and pitch curve, or targets: what
// the gauge should read at some stick positions, and how much cyclic pitch the
// blade should have. Rates and curve points are then solved for, so that the
// targets are met exactly at the blade, radio steps aside; a mode that gives both
// is checked against its targets.
//
// # Loads
//
// Where the file also has the rotor, what turns it, and ratings of the servos, a mode
// with a rotor speed is worked out under load: what each servo holds, and what the
// blade and the plate lose where it gives way; hover, and the throttle that holds the
// speed. What package pitch/rotor says of its accuracy holds for all of that.
//
// # Two setups
//
// [Compare] tells two setups apart in degrees at the blade. [Setup.Transfer] finds the
// rates and the curve that give another machine the same blade pitch.
//
// # Findings
//
// What is not as it should be is ranked: stop, fix, note. The gravest is a
// throttle that is live at low stick or under hold, or a rotor speed above what the
// blades are made for.
//
// # Accuracy
//
// A solved target is met within 1e-9 degree before the radio's steps, and so is the
// pitch that a transfer transfers, at the points of its curve. Quantities on
// a sheet are rounded to a millionth of the unit they are written in.
package setup
