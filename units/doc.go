// Package units holds the quantities of a model helicopter's rotor head, and
// reads and writes them with their units: "6°", "12.5 mm", "4.2 kgf·cm",
// "1520 µs", "0.09 s/60°".
//
// # Quantities
//
// Each quantity is a float64 that counts one coherent SI unit:
//
//	Angle         radian
//	AngularSpeed  radian per second
//	Length        metre
//	Velocity      metre per second
//	Mass          kilogram
//	Inertia       kilogram square metre
//	Time          second
//	PulseWidth    second
//	Force         newton
//	Torque        newton metre
//	Stiffness     newton per metre
//	Voltage       volt
//	Current       ampere
//	Resistance    ohm
//	Power         watt
//	Ratio         one (100 %)
//
// Units are constants of these types, used as those of [time.Duration] are:
// multiply by a unit to make a quantity, and call an accessor to get a number
// back.
//
//	pitch := 6 * units.Degree
//	fmt.Println(pitch.Degrees())
//
// The compiler keeps an Angle from being passed as a Length. It can do no more
// than that, for the types are plain numbers underneath:
//
//   - A raw number is taken in SI units. units.Angle(90) and an untyped 90 are
//     ninety radians; write 90 * units.Degree.
//   - A product or quotient of two lengths is still a Length to the compiler.
//     Where the dimension changes, convert to float64 first.
//   - Any float64 fits, so NaN and infinities do too. [Finite] finds them.
//
// # Reading
//
// [Parse], and the UnmarshalText method of each type, read a number followed by
// a unit. The number is a decimal such as 12.5, .5 or 1e-3, or a fraction such
// as 3/32 or 1 1/2. A sign may stand directly before it; the minus sign U+2212
// does as well as the hyphen. White space, the no-break spaces included, may
// stand between number and unit and around both. The units of a product are
// joined by "·", "⋅", "*", "-", "." or a space, as in "58 oz-in". Both code
// points for µ are read, and so is "us". Spellings are case-sensitive, since a
// megametre is no millimetre.
//
// A unit is always needed, for 0 as well. Refused are a decimal comma, digits
// grouped by any sign, hexadecimal, NaN, infinities, values too large for a
// float64, and whatever follows the unit. The error is a [*ParseError]. Values too
// small for a float64 are rounded to 0.
//
// As data sheets use kilograms and ounces for torque, "kg·cm" and "oz·in" are
// read as kilogram-force centimetres and ounce-force inches. For a [Force] only
// "kgf" and "ozf" will do.
//
// # Writing
//
// The MarshalText methods are exact: Parse gives back every finite value, to
// the last bit, and NaN and infinities are refused with a [*NotFiniteError].
// The text is the shortest decimal in the unit of the workshop (degree, rpm,
// millimetre, gram, gram square
// centimetre, microsecond of pulse, milliohm, per cent, else the SI unit), so what
// was read in that unit with up to 15 digits is written as it was. Some values,
// about 2 % of arbitrary lengths and 9 % of arbitrary angles, are no float64
// times that unit; they are written in the SI unit. A ratio is then written in
// the manner of a gear ratio, as "0.35:1".
//
// The String methods are for people: the same units, rounded to six significant
// digits.
//
// # Accuracy
//
// Each unit constant is the float64 nearest to its exact factor. The factors
// come from the definitions in NIST SP 811 (A. Thompson and B. N. Taylor, Guide
// for the Use of the International System of Units, 2008, Appendix B.8).
//
// Go rounds a typed constant when it is declared, so 6*units.Degree, n*units.Degree
// and the text "6°" are the same single multiplication of the same two
// float64 values, and are equal. What Parse returns is within 5e-16 of the exact
// value, relative, wherever that is a normal float64. An accessor is one
// division, and can differ in the last bit from the number multiplied in. So can
// one quantity from another that is the same on paper: 35*units.Percent and
// units.Ratio(0.35) are neighbours. Compare quantities to a tolerance.
package units
