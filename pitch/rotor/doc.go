// Package rotor works out what it takes to hold a model helicopter's blades where the head
// has put them. It gives the rotor's thrust, torque and power, and the throttle that holds
// its speed. It also gives the moments that twist a blade about its feathering axis, and
// their load on the swashplate. Start with a Spec of the rotor:
//
//	r, err := rotor.New(rotor.Spec{
//		Blades: 2, Radius: 700 * units.Millimetre, Cutout: 110 * units.Millimetre, Chord: 58 * units.Millimetre,
//		Section: rotor.NACA0015(),
//	})
//	air, err := rotor.StandardAir(400 * units.Metre) // the height of the field above the sea
//	at := rotor.Condition{Speed: 1700 * units.RevolutionPerMinute, Density: air.Density}
//	pitch, loads, err := r.HoverPitch(3.2*units.Kilogram, at) // 3.3°, and loads.Power is 381 W
//
// # Rotor
//
// A [Rotor] is cut into annuli (rings of the disc). On each, the lift of the blade elements
// is balanced with the momentum of the air that passes through, for hover and axial climb,
// and small angles of the flow. Lift rises as a straight line to a stall limit and stays
// there; drag is quadratic in the angle of attack. The loss at the tip is Prandtl's unless
// Spec.TipLoss names another. With a symmetric section and no twist, negative pitch mirrors
// positive to the last bit.
//
// In a descent under load that is slower than the windmill brake state, momentum theory has
// no answer: the error is a [*WakeError]. A rotor that is partly stalled gets an answer, with
// the stalled share in Coefficients.Stalled. Past stall the real torque is higher than the
// calculated one, since the section data do not have the rise of drag in separated flow.
//
// Left out are: change of section data with Reynolds and Mach number along the blade (use
// those at 0.75 radius), wake contraction, hub and tail rotor, ground effect, and forward
// flight.
//
// # Feathering
//
// Moments on the blade are positive when they raise the leading edge. Directions of a blade
// count clockwise from the nose, seen from above. A spinning blade pulls itself flat, with
// the moment of [Blade.FlatteningMoment]. While its pitch swings once per revolution, its own
// inertia takes up nearly all of that moment's cyclic part; [Feathering] has both.
// [Rotor.PlateLoad] and [Rotor.MeanPlateLoad] carry the moments to the plate by virtual work,
// with the slopes of the head's geometry. Friction is for the caller to add.
//
// # Power trains
//
// A [PowerTrain] is what turns the rotor: it holds a rotor speed against a torque.
// [Electric] has a battery, controller, motor and gear; [Engine] has a table of power over
// speed. If the speed cannot be held, the [*HoldError] names the best speed that can. Powers
// balance to 1e-12.
//
// # Accuracy
//
// The equations are solved to 1e-12 for blades below stall; thrust and induced
// power agree with the closed form of NACA TN 2474 (1951), equation A27, to
// 1e-13. Part-stalled blades are summed to 2e-4. Thrust near zero is good to 1e-15
// of density × disc area × (tip speed)². Standard air is within 5e-5 of the
// printed US Standard Atmosphere 1976.
//
// The model against measured rotors, as model minus measurement, with section data from
// the reports and nothing adjusted to match:
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
// Prandtl's loss is the default. It follows from the wake of the actual number of blades.
// For the slender blades of models its torque, which sizes the motor, is nearer to the
// measured one. For blades with a radius of less than about ten chords, use
// [EffectiveRadius]. At pitches below 4° thrust can be off by half of itself, since it then
// depends on tenths of a degree. TestKnightHefner and its neighbours print these numbers and
// fail if they change; testdata/README.md has them in full.
package rotor
