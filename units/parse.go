package units

import (
	"regexp"
	"strconv"
	"strings"
)

// Parse reads a quantity from a number and a unit, such as "12.5 mm", "3/32 in" or
// "-1.5°"; the package doc says what else it takes. The result is within 5e-16 of the
// exact value, relative. The error is a [*ParseError], and the quantity is then 0.
func Parse[Q Quantity](text string) (Q, error) {
	var zero Q
	d := zero.dimension()
	value, err := d.parse(text)
	if err != nil {
		return zero, &ParseError{Text: text, Quantity: d.name, Units: d.symbols(), Err: err}
	}
	return Q(value), nil
}

// unmarshal leaves q unchanged if text cannot be parsed.
func unmarshal[Q Quantity](q *Q, text []byte) error {
	parsed, err := Parse[Q](string(text))
	if err != nil {
		return err
	}
	*q = parsed
	return nil
}

func (d *dimension) parse(text string) (float64, error) {
	parts := grammar.FindStringSubmatch(text)
	if parts == nil {
		return 0, ErrNoNumber
	}
	sign, whole, numerator, denominator, decimal, spelling :=
		parts[1], parts[2], parts[3], parts[4], parts[5], parts[6]

	switch {
	case spelling == "":
		return 0, ErrNoUnit
	case spelling[0] == ',':
		return 0, ErrComma
	}
	u, ok := d.bySpelling[canonical(spelling)]
	if !ok {
		return 0, ErrUnknownUnit
	}

	var x float64
	var err error
	if decimal != "" {
		x, err = parseDecimal(decimal)
	} else {
		x, err = parseFraction(whole, numerator, denominator)
	}
	if err != nil {
		return 0, err
	}
	if sign == "-" || sign == "−" {
		x = -x
	}
	return u.toSI(x)
}

// toSI takes x of the unit to SI units. For a unit that is not inverse it is a
// single multiplication, on which writing relies.
func (u unit) toSI(x float64) (float64, error) {
	si := x * u.factor
	if u.inverse {
		if x == 0 {
			return 0, ErrZeroDivisor
		}
		si = u.factor / x
	}
	if !isFinite(si) {
		return 0, ErrOverflow
	}
	return si, nil
}

// grammar splits a text into the sign, the whole part, numerator and
// denominator of a fraction, or else a decimal, and all that follows the number.
var grammar = regexp.MustCompile(`(?s)^` + spaces + `*([-−+]?)(?:` + fractions + `|` + decimals + `)` +
	spaces + `*(.*?)` + spaces + `*$`)

const (
	spaces    = `[\s\p{Z}]`
	fractions = `(?:([0-9]+)` + spaces + `+)?([0-9]+)/([0-9]+)`
	decimals  = `((?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][-−+]?[0-9]+)?)`
)

// parseFraction returns whole + numerator/denominator. The whole part may be
// empty. It rounds once where the digits are those of integers below 2⁵³.
func parseFraction(whole, numerator, denominator string) (float64, error) {
	n, err := parseDecimal(numerator)
	if err != nil {
		return 0, err
	}
	d, err := parseDecimal(denominator)
	if err != nil {
		return 0, err
	}
	if d == 0 {
		return 0, ErrZeroDivisor
	}
	if whole == "" {
		return n / d, nil
	}
	w, err := parseDecimal(whole)
	if err != nil {
		return 0, err
	}
	return (float64(w*d) + n) / d, nil
}

// parseDecimal reads digits that the grammar has found to be a decimal.
func parseDecimal(digits string) (float64, error) {
	x, err := strconv.ParseFloat(strings.Replace(digits, "−", "-", 1), 64)
	if err != nil {
		return 0, ErrOverflow
	}
	return x, nil
}

var (
	plainSigns = strings.NewReplacer("μ", "µ", "⋅", "·", "*", "·", "-", "·", ".", "·")
	closedUp   = strings.NewReplacer(" · ", "·", " ·", "·", "· ", "·", " / ", "/", " /", "/", "/ ", "/", " ", "·")
)

// canonical brings the spellings that differ only in how a product of units is
// joined, in white space, or in the code point for µ to one form.
func canonical(spelling string) string {
	oneSpaced := strings.Join(strings.Fields(plainSigns.Replace(spelling)), " ")
	return closedUp.Replace(oneSpaced)
}
