// Package linkagetest checks that a geometry type of your own holds the laws of
// [linkage.Linkage]. One call in a test runs them all:
//
//	func TestYoke(t *testing.T) {
//		yoke, err := NewYoke(10 * units.Millimetre) // your type
//		if err != nil {
//			t.Fatal(err)
//		}
//		if err := linkagetest.Check(yoke, linkagetest.Odd); err != nil {
//			t.Error(err)
//		}
//	}
//
// The package's example has the whole type, a Scotch yoke, to copy.
//
// [Check] takes one linkage and returns every law that it breaks. [Test] draws many
// linkages with pgregory.net/rapid and checks each, which is what a geometry type's
// own tests should call. [Fuzz] is the body of a fuzz target. The package is for
// tests: it imports testing and rapid.
//
// # The laws
//
// A [LawError] bears the number of its law in the doc of [linkage.Linkage]:
//
//  1. Back after Move is the identity, and so is Move after Back.
//  2. Slope is compared with the derivative of Out that is found from Out alone, by
//     central differences extrapolated to a step of zero.
//  3. The travel holds 0. Out goes one way from each sample to the next, and every
//     gap between samples is halved until it closes or a jump is left.
//  4. Inputs at and beyond the travel's ends, outputs beyond those that the ends
//     give, NaN and infinities are refused: with a *[linkage.TravelError] that
//     repeats what was asked and tells the excess, and with no number.
//  5. Every sample within the travel has an answer, finite, with both angles
//     above 0 and at most 90°.
//  6. Move and Back do not allocate.
//  7. The linkage is constant: its kinds are of those declared, and the same
//     question has the same answer each time.
//  8. Towards an end of the travel, where Move still answers, the angle that its stop speaks
//     of goes to nothing; where there is no stop the slope goes neither to nothing nor beyond
//     all bounds.
//  9. A [linkage.Placed] has ends as far apart at each sample as at neutral, whose slopes are
//     the derivatives of their places, and LinkSlopes follow from them.
//
// What only some linkages hold is a [Claim], checked where a test makes it. Its
// errors have the number 0.
//
// # Samples
//
// The samples are a grid on either side of neutral, points spread irregularly
// among it, and points that close in on each end. They come as near to an end as
// 1/8192 of that side of the travel: nearer, a linkage may answer or refuse, but
// not lie. Of a travel without ends, a turn or a metre on either side of neutral is
// sampled. The samples are the same each time, so that a failure is too.
//
// # Clamp at the ends
//
// Rounding lands on the ends of the travel and beyond them. An output just inside those
// of the ends must have an input, and the arcsine or the like that finds it can give the
// end itself, which is outside the open interval, or NaN. So Back must clamp what it finds
// to the last input within the travel; it must not refuse it, and it must not clamp an
// output that is beyond. Move can refuse in the last few bits before an end, where a
// lever is nothing to rounding. What helps:
//
//   - [linkage.Travel.Clamp] brings an input that is off by rounding back into the travel.
//   - [linkage.Travel.Holds] tells what is inside, and refuses NaN.
//   - [linkage.Wrap] takes whole turns out of an angle.
//   - [linkage.Arm] is a checked arm on a shaft: where its ball is, the angle at which its
//     link reaches, how it stands to it.
//
// Inside package linkage, the methods check and checkOutput of a Travel make the
// *[linkage.TravelError], words.Refuse makes the error of a field, and closure is all of a
// type that is an arm whose link drives something: it needs a follower.
//
// # Tolerances
//
// An output must be right to 1e-12 of its scale, which leaves a geometry
// some four digits of float64 to lose. The scale is the largest output sampled, and
// never less than what a radian moves, nor for an angle than a radian. A small
// transmission angle magnifies the error, by its sine. An input that comes back can
// be off by as much of its own scale, and by what the output's error makes of it at
// the slope there, so that dead centres are no special case.
// A slope must be right to 1e-6, or to ten times the error that the
// extrapolation estimates for itself, or to what the outputs' own error makes of
// it over the longest step. The ends of the travel and of the outputs must be
// right to the root of 1e-12, as a double root is.
package linkagetest
