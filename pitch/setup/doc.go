// Package setup builds a machine and tells what it does in each of its flight modes: which
// way the arms stand, what the pitch gauge reads, where it binds, which rates and curve
// points meet its targets.
//
//	m, err := machine.Parse(data)  // the machine file
//	rig, err := setup.Build(m)     // the machine, ready to be asked
//	hover := rig.Modes()[0]        // the machine in a flight mode
//	row, err := hover.Row(0.75)    // at 75 % of the collective stick
//	fmt.Println(row.Gauge)         // what the gauge reads there
//
// A [Rig] is a machine as it is built. A [Setup] is a rig in one of its flight modes: most
// questions are asked of it. Neither changes: [Rig.With], [Rig.Refit], [Rig.WithArms] and
// [Setup.Enter] return another one. Package sheet works out everything that a bench sheet
// says of a rig, and package load what it carries while the rotor turns.
//
// Package pitch solves for the targets, and asks no machine file: this package tells what stops
// it by the servos' names and the fields of the file.
//
// # Two setups
//
// [Compare] tells two setups apart in degrees at the blade. [Setup.Transfer] finds the
// rates and the curve that give another machine the same blade pitch.
//
// # Accuracy
//
// Solved values meet a target within 1e-9 degree before they are rounded to the radio's
// steps. So do those of a transfer, at the points of its curve. [Solution] says what the
// steps leave. Quantities of a comparison or transfer are rounded to a millionth of the unit
// they are written in.
package setup
