// Package curve works out what a pitch curve or a throttle curve makes of a stick's
// position, and which stick position gives a wanted demand. Start with [New] for a curve
// through points, or with [Expo] to soften a cyclic stick:
//
//	throttle, err := curve.New(curve.Monotone, []curve.Point{{X: 0, Y: 0}, {X: 0.5, Y: 0.6}, {X: 1, Y: 0.8}})
//	if err != nil {
//		return err
//	}
//	half := throttle.At(0.25)            // 0.3625
//	stick, err := throttle.Inverse(half) // and back: 0.25
//	fmt.Println(half, throttle.Slope(0.25), stick, err)
//
// # Curves
//
// A [Curve] runs through 2 to 17 points at any stick positions. Positions and
// demands are plain ratios, such as 0 to 1 or -1 to 1; the curve knows no
// units. Its [Kind] says how the points are joined:
//
//	Polyline  straight lines; the slope jumps at the points
//	Monotone  smooth, and never beyond two neighbouring points
//	Akima     smooth and local, may overshoot a little
//	Natural   smoothest, may overshoot anywhere
//	NotAKnot  as Natural, but true to a cubic right up to the ends
//
// Choose Polyline or Monotone for a stick: where the points rise, so does the
// demand. Beyond its first and last point a curve stays at their values; it never
// extrapolates.
//
// [Curve.Inverse] finds the stick position for a demand. It answers only where
// the whole curve rises or falls strictly, so that there is one answer; else
// the error says which segment turns back, and by how much.
//
// # Expo
//
// [Expo] softens the middle of a cyclic stick by a cubic and keeps its ends.
//
// # Invert
//
// [Invert] solves f(x) = y for any continuous f between two ends whose values lie on
// either side of y. Inverse uses it, and so can any other package that needs a way back.
//
// # Accuracy
//
// Values and slopes agree within 1e-12, relative, with the published test data
// of Fritsch and Carlson and of Akima, for every cubic kind. A curve passes
// exactly through its points from the right. From the left, rounding leaves a
// step below 1e-12 of the largest Y where the longest segment is at most 25
// times the shortest; it grows with more uneven points, and [New] refuses them
// where it passes 1e-9. Inverse and Invert go on until two neighbouring float64
// values straddle the answer, so only the rounding of f itself is left. Near a
// level position of a curve that rounding weighs more: there x is known to
// about the cube root of 1e-16 of its range, and y still to the last few bits.
//
// Nothing here promises equal bits on machines that fuse multiply and add.
//
// # Speed
//
// At, Slope, the inverses and Invert allocate nothing unless they fail.
package curve
