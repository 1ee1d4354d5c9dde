package networktest

import "math"

// differences returns the derivatives at 0 of the numbers that f gives, and how far each of
// them can be off, by unit. Central differences over h, and over less and less, are
// extrapolated to none, as in C. J. F. Ridders, Accurate computation of F'(x) and F'(x)
// F"(x), Advances in Engineering Software 4 (1982), 75-76 (from memory). What f bends by
// is not known beforehand: a short link on a long arm bends much, and so does all near a
// dead centre. So how much the numbers, all together, change from one order to the next
// and from one step to the next tells how far they are off, and with it what noise of f
// makes; and it goes on until that is small against the largest derivative, or against
// least. Where f refuses at every step it reports false.
func differences(h, least, noise float64, unit func(i int) float64, f func(by float64) ([]float64, bool)) (d []float64, unsure float64, ok bool) {
	const (
		halvings  = 20
		estimates = 10 // of what changes, that can be wrong
	)
	unsure = math.Inf(1)
	var row [][]float64 // of the step before, by order
	for range halvings {
		up, ok1 := f(h)
		down, ok2 := f(-h)
		if !ok1 || !ok2 {
			row = nil
			h /= 2
			continue
		}
		first := make([]float64, len(up))
		for i := range first {
			first[i] = (up[i] - down[i]) / (2 * h)
		}
		next := [][]float64{first}
		power := 1.
		for k, last := range row {
			power *= 4
			low, high := next[k], make([]float64, len(first))
			var off float64
			for i := range high {
				high[i] = low[i] + (low[i]-last[i])/(power-1)
				off = max(off, math.Abs(high[i]-low[i])/unit(i), math.Abs(high[i]-last[i])/unit(i))
			}
			next = append(next, high)
			if off = estimates*off + noise/h; off < unsure {
				d, unsure = high, off
			}
		}
		most := least
		for i := range d {
			most = max(most, math.Abs(d[i])/unit(i))
		}
		if unsure <= slope*most {
			break
		}
		row = next
		h /= 2
	}
	return d, unsure, d != nil
}

// noiseOf returns by how much rounding makes the numbers that f gives jump, by unit: what
// their second differences over hair's breadths of a length or a radian are.
func noiseOf(size float64, unit func(i int) float64, f func(by float64) ([]float64, bool)) float64 {
	const breadth, samples = 1e-11, 9
	most, largest := 0., 1.
	var a, b []float64
	for k := range samples {
		next, ok := f(float64(k-samples/2) * breadth * size)
		if !ok {
			return math.Inf(1)
		}
		for i := range a {
			most = max(most, math.Abs(next[i]-2*b[i]+a[i])/unit(i))
			largest = max(largest, math.Abs(next[i])/unit(i))
		}
		a, b = b, next
	}
	return most + 0x1p-52*largest // and the last bits of the numbers themselves
}
