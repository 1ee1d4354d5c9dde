// Package setup reads a machine file and works out all that a bench sheet says.
//
// A machine file is JSON. It holds the geometry, the servos, what the radio can
// resolve, the pitch gauge, and any number of flight modes. Quantities are text
// with a unit, such as "12.5 mm" or "-9°", as package units reads them. Fields that
// are missing, unknown or given twice are refused, with the path of the field and
// its line.
//
//	m, err := setup.Parse(data) // the file
//	rig, err := m.Build()       // the machine, ready to be asked
//	sheet, err := rig.Sheet()   // all that a sheet says
//
// A flight mode either gives its function rates and pitch curve, or targets: what
// the gauge should read at some stick positions, and how much cyclic pitch the
// blade should have. Rates and curve points are then solved for, so that the
// targets are met exactly at the blade, radio steps aside; a mode that gives both
// is checked against its targets.
//
// # Findings
//
// What is not as it should be is ranked: stop, fix, note. The gravest is a
// throttle that is live at low stick or under hold.
//
// # Accuracy
//
// A solved target is met within 1e-9 degree before the radio's steps. Quantities on
// a sheet are rounded to a millionth of the unit they are written in.
package setup
