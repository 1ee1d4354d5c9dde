// Package units reads, writes and keeps apart the quantities of a model helicopter's
// rotor head: "6°", "12.5 mm", "4.2 kgf·cm", "1520 µs", "0.09 s/60°". Read text with
// [Parse], and multiply a number in code by a unit:
//
//	radius, err := units.Parse[units.Length]("12.5 mm")
//	if err != nil {
//		return err // length "12.5" needs a unit, such as "12.5 mm" (or cm, m, in, ft)
//	}
//	pitch := 6 * units.Degree
//	fmt.Println(radius, pitch, radius.Inches(), pitch.Radians())
//
// Other packages take and return these types. Their fields in JSON are such texts; package
// units/plain writes results as plain numbers, with the unit in the key's name.
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
// Units are constants of these types, used as those of [time.Duration] are. An accessor
// such as [Angle.Degrees] gives the number back.
//
// The compiler keeps an Angle from being passed as a Length. It can do no more
// than that, for the types are plain numbers underneath:
//
//   - A raw number is in SI units. units.Angle(90) and an untyped 90 are
//     ninety radians; write 90 * units.Degree.
//   - A product or quotient of two lengths is still a Length to the compiler.
//     Where the dimension changes, convert to float64 first.
//   - Any float64 fits, so NaN and infinities do too. [Finite] finds them.
//
// # Reading
//
// [Parse], and the UnmarshalText method of each type, read a number followed by
// a unit. The number is a decimal such as 12.5, .5 or 1e-3, or a fraction such
// as 3/32 or 1 1/2. A sign can stand directly before it; the minus sign U+2212
// does as well as the hyphen. White space, also a no-break space, can stand between
// number and unit and around both. The units of a product are
// joined by "·", "⋅", "*", "-", "." or a space, as in "58 oz-in". Both code
// points for µ are read, and so is "us". Spellings are case-sensitive, since a
// megametre is no millimetre.
//
// A unit is always needed, for 0 as well. Parse refuses a decimal comma, digits grouped
// by any sign, hexadecimal, NaN, infinities, values too large for a float64, and whatever
// follows the unit. The error is a [*ParseError], which says what to write instead. Values
// too small for a float64 are rounded to 0.
//
// As data sheets use kilograms and ounces for torque, "kg·cm" and "oz·in" are
// read as kilogram-force centimetres and ounce-force inches. A [Force] needs "kgf" or
// "ozf".
//
// # Writing
//
// The MarshalText methods are exact: Parse gives back every finite value, to
// the last bit, and NaN and infinities are refused with a [*NotFiniteError].
// The text is the shortest decimal in the unit of the workshop: degree, rpm,
// millimetre, gram, gram square centimetre, newton per millimetre, microsecond of pulse,
// milliohm or per cent, else the SI unit. What was read in that unit with up to 15 digits
// is written as it was. Some values, about 2 % of arbitrary lengths and 9 % of arbitrary
// angles, are no float64 times that unit. They are written in the SI unit, and a ratio
// then as a gear ratio is, "0.35:1".
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
