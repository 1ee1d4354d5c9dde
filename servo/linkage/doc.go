// Package linkage holds the geometry of what one servo arm moves, exactly.
//
// An Arm turns about a shaft and carries a ball at its end; a link of fixed
// length joins that ball to another one. A servo arm under a swashplate and
// the horn of a blade grip are both such arms, so one piece of code serves
// the two.
//
// A Linkage is a geometry type: one number goes in, such as the arm's angle, and one
// comes out. ArmToLine moves a ball along a line, ArmToArm turns another arm, in a
// plane or in space, Lever is a fixed ratio, and a Chain puts several behind each
// other, as bell cranks do. Package linkagetest holds any such type, ours or a
// newcomer's, to the laws that Linkage numbers.
//
// # Frame
//
// Positions are in the machine's frame: x right, y forward, z up, origin on
// the mast axis. An arm's angle is 0 in its drawn neutral direction and is
// positive turning from there about the shaft axis by the right-hand rule.
//
// # Accuracy
//
// Away from a dead centre an arm angle is good to about 1e-15 rad times the
// ratio of the lengths involved. Towards a dead centre the angle itself
// becomes indeterminate, as the square root of the rounding error.
package linkage
