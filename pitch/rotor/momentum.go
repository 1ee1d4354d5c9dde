package rotor

import (
	"math"

	"example.org/levelhead/units"
)

// windmillLimit is the greatest share of an opposing axial flow by which a rotor
// can slow it with a steady wake. Momentum theory breaks down at 1/2; measured
// thrusts leave it from about 0.4 (H. Glauert 1926, from memory).
const windmillLimit = 0.4

// InducedVelocity returns the velocity which a thrust adds at an ideal disc, by
// momentum theory: positive is down, with an upward thrust. Climb is the disc's
// own speed upward. A thrust against the axial flow is refused with a
// [*WakeError] unless the flow is so fast that it passes through in a steady
// wake, as in the windmill brake state.
func InducedVelocity(thrust units.Force, radius units.Length, density Density, climb units.Velocity) (units.Velocity, error) {
	if err := firstOf(
		within("thrust", "thrust (N)", thrust, -maxThrust, maxThrust),
		within("radius", "radius (m)", radius, minRadius, maxRadius),
		within("density", "density (kg/m³)", density, minDensity, maxDensity),
		within("climb", "climb (m/s)", climb, -maxVelocity, maxVelocity),
	); err != nil {
		return 0, err
	}
	sign, t, v := 1.0, float64(thrust), float64(climb)
	if t < 0 {
		sign, t, v = -1, -t, -v
	}
	r := float64(radius)
	hover2 := t / (2 * float64(density) * math.Pi * r * r)
	if v >= 0 {
		// induced (v + induced) = hover²
		half := v / 2
		return units.Velocity(sign * hover2 / (half + math.Hypot(half, math.Sqrt(hover2)))), nil
	}
	// induced (-v - induced) = hover²
	half := -v / 2
	square := half*half - hover2
	if square >= 0 {
		induced := hover2 / (half + math.Sqrt(square))
		if induced <= windmillLimit*-v {
			return units.Velocity(sign * induced), nil
		}
	}
	return 0, &WakeError{Climb: climb, Beyond: 1}
}

// IdealPower returns the power that a thrust takes at an ideal disc: thrust times
// the flow through the disc. No rotor takes less. The errors are those of
// InducedVelocity.
func IdealPower(thrust units.Force, radius units.Length, density Density, climb units.Velocity) (units.Power, error) {
	v, err := InducedVelocity(thrust, radius, density, climb)
	return units.Power(float64(thrust) * float64(climb+v)), err
}

// figureOfMerit returns the share of the power that an ideal hovering disc
// would need (R. D. Harrington, NACA TN 2318, 1951, p. 3).
func figureOfMerit(ct, cq float64) float64 {
	if ct == 0 {
		return 0
	}
	return math.Abs(ct) * math.Sqrt(math.Abs(ct)/2) / cq
}

// maxSteps bounds the search for the flow: bisection alone needs fewer.
const maxSteps = 100

// annulus is a ring of the disc with the blade elements that sweep it. Lengths are
// in radii, velocities in tip speeds.
type annulus struct {
	x         float64 // radius
	weight    float64 // width, by Gauss and Legendre
	solidity  float64 // blade area over disc area, local
	chord     float64
	twist     float64 // pitch here minus the blade's pitch, in radians, counted from zero lift
	lossScale float64 // Prandtl's exponent times the flow through the disc; +Inf without loss, 0 without lift
}

// loss returns the share of the annulus's ideal momentum at a flow u through it,
// and its derivative (L. Prandtl 1919; u is the sine of the flow's angle at the
// tip, as the pitch of the helical wake). The arc cosine of the formula is taken by
// both its sides, for it loses digits towards 1, near the tip.
func (n *annulus) loss(u float64) (f, slope float64) {
	exponent := n.lossScale / u
	if !(exponent < 40) { // exp(-40) is below rounding
		return 1, 0
	}
	e := math.Exp(-exponent)
	sin := math.Sqrt(-math.Expm1(-2 * exponent))
	return 2 / math.Pi * math.Atan2(sin, e), -2 / math.Pi * e / sin * exponent / u
}

// element is the state of the blade elements of an annulus.
type element struct {
	flow   float64 // down through the disc, in tip speeds
	attack float64 // from zero lift, rad
	lift   float64 // coefficient
	steady bool    // the wake is steady, so that momentum theory holds
}

func (e element) mirrored() element {
	e.flow, e.attack, e.lift = -e.flow, -e.attack, -e.lift
	return e
}

// solve finds the flow at which the blades' lift is the change of momentum,
//
//	4 F u (u - climb) x = (solidity/2) lift(pitch - u/x) x²
//
// for small angles (NACA TN 2474, eq. A7 and A8, with the loss F). Pitch counts
// from zero lift, in radians.
func (n *annulus) solve(s *Section, pitch, climb float64) element {
	if climb < 0 || (climb == 0 && pitch < 0) {
		return n.solve(s, -pitch, -climb).mirrored()
	}
	zeroLift := pitch * n.x
	if n.lossScale == 0 {
		return element{flow: zeroLift, steady: true}
	}
	// From the least flow with a steady wake on, both sides of the balance move
	// apart as the flow grows. At the greater of climb and the flow without lift
	// the momentum side is the greater one.
	lo, hi := (1-windmillLimit)*climb, max(climb, zeroLift)
	at := func(u float64) element {
		attack := pitch - u/n.x
		lift, _ := s.lift(attack)
		return element{u, attack, lift, true}
	}
	if b, _ := n.imbalance(s, pitch, climb, lo); b > 0 {
		e := at(lo)
		e.steady = false
		return e
	}
	// Closed form for F = 1 and lift below stall (NACA TN 2474, eq. A11), with climb.
	// There the search below only confirms it; elsewhere it starts from it.
	k := n.solidity * s.LiftSlope / 8
	half, q := (k-climb)/2, k*zeroLift
	u := lo
	if square := half*half + q; square >= 0 {
		root := math.Sqrt(square)
		if half > 0 {
			u = q / (half + root)
		} else {
			u = root - half
		}
	}
	u = min(max(u, lo), hi)
	// Newton's method within the bracket, and bisection where a step leaves it.
	// The error after a step is of the order of the step's square.
	for range maxSteps {
		b, slope := n.imbalance(s, pitch, climb, u)
		if b > 0 {
			hi = u
		} else {
			lo = u
		}
		next := u - b/slope
		if math.Abs(next-u) <= 0x1p-30*u {
			u = next
			break
		}
		if !(next > lo && next < hi) {
			next = lo + (hi-lo)/2
		}
		u = next
	}
	return at(u)
}

// imbalance returns momentum minus lift at a flow u, both over x, and the derivative.
func (n *annulus) imbalance(s *Section, pitch, climb, u float64) (b, slope float64) {
	f, df := 1.0, 0.0
	if u > 0 {
		f, df = n.loss(u)
	}
	lift, liftSlope := s.lift(pitch - u/n.x)
	half := n.solidity / 2
	return 4*f*u*(u-climb) - half*lift*n.x,
		4*f*(2*u-climb) + 4*df*u*(u-climb) + half*liftSlope
}
