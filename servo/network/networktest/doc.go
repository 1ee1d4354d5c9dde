// Package networktest checks that a network holds the laws that package network
// numbers. One line in a test runs them all on a description, at neutral and at any
// inputs:
//
//	if err := networktest.Check(spec, inputs); err != nil { t.Error(err) }
//
// [Check] takes one description and returns every law that is broken. [Test] draws many
// with pgregory.net/rapid and checks each, which is what the tests of a pattern of
// machines should call. [Fuzz] is the body of a fuzz target. The package is for tests:
// it imports testing and rapid.
//
// # The laws
//
// A [LawError] bears the number of its law in the doc of package network:
//
//  1. Every ball stands where the coordinates carry it, by rotations worked out here
//     anew. Every link has its length, or, with links to spare, the energy of the
//     strains is least: its slope over every unknown, by differences, is nothing, and
//     it grows to either side.
//  2. Effect and InputEffect are compared with differences of networks built and
//     solved anew, extrapolated to no step. Gradient is the sum of effects.
//  3. For a load drawn at random, the work of the inputs that Carry tells is the work
//     of the load, for each input by itself; and the forces along the links hold every
//     unknown.
//  4. Where as many coordinates as there are inputs can be given instead of them, the
//     network solved that way round gives the inputs back, unless an input passes its
//     own dead centre on the way.
//  5. The mirror image of the description gives the mirror image of the answer.
//  6. From neutral to the inputs no coordinate jumps: every gap between samples is
//     halved until it closes. A state that comes from near by, and one that has been
//     elsewhere, answer alike.
//  7. Nothing allocates.
//  8. NaN, infinities and slices of a wrong length are refused with an
//     *units.FieldError, and what failed answers NaN. Errors name bodies and links
//     that there are.
//  9. The order in which bodies, balls and links are listed does not matter.
//
// # Tolerances
//
// An answer is asked to be right to 1e-12 of the size of the network, or of a radian,
// over the hold at the answer: near a dead centre rounding is magnified. A derivative is
// asked to be right to 1e-10 of the largest of those of the same part, or of that of a
// radian by a radian or a size by a size, and to what the differences do not know. They
// find that out themselves: ten times what still changes from one order and one step to
// the next, and how much the answers jump as a part changes by a hair's breadth, over the
// step. So a place near a dead centre, or a link of a millimetre on an arm of a hundred,
// is judged as sharply as differences in 53 bits allow, and no more sharply.
package networktest
