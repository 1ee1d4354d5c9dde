// Package sheet works out all that a bench sheet says of a machine, as data: what to enter
// in the radio, what the pitch gauge should then read, what is wrong, and what each turn of
// a link or step of a trim would do.
//
//	s, err := sheet.Of(rig)
//	fmt.Println(s.Cautions)  // what is said before any work
//	fmt.Println(s.Findings)  // what is wrong, the gravest first
//
// # Findings
//
// A finding is a stop, a fix or a note. The gravest are a throttle that is live at low stick
// or under hold, and a rotor speed above what the blades are made for. That there is no
// finding means that these checks found none; the sheet says what was not looked at.
// Checks lists what is looked at and what can be found, and its example prints the list.
//
// Program with Finding.Kind, Finding.At and Finding.Numbers, which are data. What, Figure and
// Do are made from them for people to read.
//
// Quantities on a sheet are rounded to a millionth of the unit they are written in.
package sheet
