// Package linkage works out what a servo arm (also called servo horn) does to the thing that
// its link is joined to. That can be another arm ([ArmToArm]), a ball on a straight line
// ([ArmToLine]), or a row of these ([Chain]), as in bell cranks. A [Lever] is a fixed ratio.
// All of them are a [Linkage], where one number goes in and one comes out:
//
//	const mm, deg = units.Millimetre, units.Degree
//	crank, err := linkage.NewArmToArm(linkage.FourBar(12*mm, 60*mm, 15*mm, 60*mm, 90*deg, 90*deg))
//	if err != nil {
//		return err
//	}
//	m, err := crank.Move(0.2)    // the servo arm turned by 0.2 rad: m.Out is 0.1648 rad
//	in, err := crank.Back(m.Out) // and back: 0.2
//	fmt.Println(m.Out, m.Slope, in, err)
//
// To add a type of your own, implement Linkage and test it with package linkagetest.
//
// An [Arm] alone turns about a shaft and carries a ball at its end. A link of fixed
// length joins that ball to another one. A servo arm under a swashplate and the pitch horn of
// a blade are both such arms.
//
// # Frame
//
// Positions are in the machine's frame: x right, y forward, z up, origin on
// the mast axis. An arm's angle is 0 in its drawn neutral direction and is
// positive turning from there about the shaft axis by the right-hand rule. Inputs and outputs
// of a Linkage are in radians or metres, as its Kinds say, and neutral is the input 0.
//
// # Accuracy
//
// Away from a dead centre an arm angle is good to about 1e-15 rad times the
// ratio of the lengths involved. Towards a dead centre the angle itself
// becomes indeterminate, as the square root of the rounding error.
package linkage
