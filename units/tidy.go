package units

import (
	"math"
	"reflect"
)

// Tidy rounds every quantity in what v points to, however deep in its exported fields,
// pointers, slices and arrays, to a millionth of the unit in which it is written: far finer
// than anyone can set, and free of rounding's tails. Maps and interfaces are left as they
// are; so are numbers that are no quantities.
func Tidy[T any](v *T) { tidy(reflect.ValueOf(v).Elem()) }

func tidy(v reflect.Value) {
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			tidy(v.Elem())
		}
	case reflect.Slice, reflect.Array:
		for i := range v.Len() {
			tidy(v.Index(i))
		}
	case reflect.Struct:
		for i := range v.NumField() {
			tidy(v.Field(i))
		}
	case reflect.Float64:
		if !v.CanSet() {
			return
		}
		if q, ok := v.Interface().(interface{ dimension() *dimension }); ok {
			const decimals = 6
			v.SetFloat(q.dimension().round(v.Float(), decimals))
		}
	}
}

// round returns a quantity in SI units with at most the given number of decimals in the
// preferred unit, as Round says.
func (d *dimension) round(q float64, decimals int) float64 {
	factor := d.preferred.factor
	power := math.Pow(10, float64(min(max(decimals, 0), 15)))
	x := math.Round(q/factor*power) / power
	if x == 0 {
		return 0
	}
	if !isFinite(x) || math.Abs(x)*power > 1<<53 {
		return q
	}
	return x * factor
}
