package curve_test

import (
	"encoding/binary"
	"errors"
	"math"
	"testing"

	"example.org/levelhead/curve"
	"example.org/levelhead/units"
)

// encodePoints is the inverse of decodePoints, for the seeds.
func encodePoints(points []curve.Point) []byte {
	var data []byte
	for _, p := range points {
		data = binary.LittleEndian.AppendUint64(data, math.Float64bits(p.X))
		data = binary.LittleEndian.AppendUint64(data, math.Float64bits(p.Y))
	}
	return data
}

// decodePoints takes any bytes, 16 to a point, so every float64 can occur.
func decodePoints(data []byte) []curve.Point {
	var points []curve.Point
	for ; len(data) >= 16; data = data[16:] {
		points = append(points, curve.Point{
			X: math.Float64frombits(binary.LittleEndian.Uint64(data)),
			Y: math.Float64frombits(binary.LittleEndian.Uint64(data[8:])),
		})
	}
	return points
}

// FuzzNew checks that New refuses with a typed error, or else gives a curve
// with finite values everywhere, the points among them.
func FuzzNew(f *testing.F) {
	for kind := range len(kinds) + 1 {
		f.Add(kind, encodePoints(fivePoints()))
		f.Add(kind, encodePoints([]curve.Point{{X: -1e6, Y: 1e6}, {X: -1 + 1e-6}, {X: -1 + 3e-6, Y: -1e6}, {X: 1e6, Y: 1e6}}))
		f.Add(kind, encodePoints([]curve.Point{{X: math.NaN()}, {X: 1, Y: math.Inf(1)}}))
	}
	f.Fuzz(func(t *testing.T, kind int, data []byte) {
		points := decodePoints(data)
		c, err := curve.New(curve.Kind(kind), points)
		if err != nil {
			var kindErr *curve.KindError
			var point *units.FieldError
			var fit *curve.FitError
			if !errors.As(err, &kindErr) && !errors.As(err, &point) && !errors.As(err, &fit) {
				t.Errorf("untyped error %v", err)
			}
			_ = err.Error()
			return
		}
		for i, p := range points {
			if y := c.At(p.X); y != p.Y {
				t.Errorf("At(%g) = %g, want %g", p.X, y, p.Y)
			}
			for _, share := range []float64{-1, 0.1, 0.5, 0.9} {
				next := points[min(i+1, len(points)-1)]
				x := p.X + share*max(next.X-p.X, curve.MinSpacing)
				if y, slope := c.At(x), c.Slope(x); math.IsNaN(y-y) || math.IsNaN(slope-slope) {
					t.Errorf("At(%g) = %g, Slope = %g", x, y, slope)
				}
			}
		}
		y := (points[0].Y + points[len(points)-1].Y) / 2
		x, err := c.Inverse(y)
		var turn *curve.NotMonotoneError
		if lo, hi := c.Domain(); err != nil && !errors.As(err, &turn) || err == nil && (x < lo || x > hi) {
			t.Errorf("Inverse(%g) = %g, %v", y, x, err)
		}
	})
}
