// Package rotor says what it takes to hold a model helicopter's blade where the
// head has put it: thrust, torque and power over pitch and rotor speed, the
// moments that twist the blade about its feathering axis and load the plate, and
// the throttle that holds the rotor's speed.
//
// # Rotor
//
// A [Rotor] is cut into annuli. On each, the lift of the blade elements is
// balanced with the momentum of the air that passes through, for hover and axial
// climb, and small angles of the flow. Lift rises as a straight line to a stall limit and
// is then held (a hard cap); drag is quadratic in the angle of attack. The loss at
// the tip is Prandtl's unless another is asked for. With a symmetric section and
// no twist, negative pitch mirrors positive to the last bit.
//
// Where momentum theory has no answer, in a descent under load that is slower
// than the windmill brake state, the error is a [*WakeError]. A rotor part of
// which is stalled gets an answer, with the share in Coefficients.Stalled: past
// stall the real torque is higher than given, since the section data do not know
// the rise of drag in separated flow.
//
// Left out are: change of section data with Reynolds and Mach number along the
// blade (put in those of 0.75 radius), wake contraction, hub and tail rotor, ground
// effect, and forward flight.
//
// # Feathering
//
// Moments on the blade are positive when they raise the leading edge. A spinning
// blade pulls itself flat, with the moment of [Blade.FlatteningMoment]. While its
// pitch swings once per revolution its own inertia takes up nearly all of that
// moment's cyclic part; [Feathering] has both. [Rotor.PlateLoad] and
// [Rotor.MeanPlateLoad] carry the moments to the plate by virtual work, with the
// slopes of the head's geometry. Friction is the caller's to add.
//
// # Drives
//
// A [PowerTrain] holds a rotor speed against a torque: [Electric] has a battery,
// controller, motor and gear, [Engine] a table of power over speed. Where the speed
// cannot be held the [*HoldError] names the best that can. Powers balance to 1e-12.
//
// # Accuracy
//
// The equations are solved to 1e-12 for blades below stall; thrust and induced
// power agree with the closed form of NACA TN 2474 (1951), equation A27, to
// 1e-13. Part-stalled blades are summed to 2e-4. Thrust near zero is good to 1e-15
// of density × disc area × (tip speed)². Standard air is within 5e-5 of the
// printed US Standard Atmosphere 1976.
//
// The model against measured rotors, model less measurement, with section data
// from the reports and nothing fitted:
//
//	rotor                              quantity   Prandtl        effective radius
//	NACA TN 626, 1937, 2 to 5 blades,  thrust     -3 to +13 %    -10 to +4 %
//	  NACA 0015, pitch from 6°         torque     -6 to +10 %    -15 to +2 %
//	NACA TN 2474, 1951, 3 blades,      thrust     -10 to +17 %   -15 to +11 %
//	  NACA 0015, pitch from 3.9°       torque     mean size 14 %
//	NASA TM-81232, 1981, 2 blades      thrust     +19 to +44 %   -4 to +14 %
//	  of aspect ratio 6
//	NACA TN 2318, 1951, full scale,    torque at  -2 to +4 %
//	  rotor 2, untapered               a thrust
//	  rotor 1, tapered                            +3 to +19 %
//
// Prandtl's loss is the default: it follows from the wake of the number of blades
// at hand, and over the slender blades of models its torque, which sizes the
// motor, is the nearer. For stubby blades, with a radius of less than some ten
// chords, take [EffectiveRadius]. At pitches below 4° thrust can be off by a
// half of itself, since it then hangs on tenths of a degree. TestKnightHefner and
// its neighbours print and gate these numbers; testdata/README.md has them in full.
package rotor
