package networktest

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"example.org/levelhead/servo/network"
)

// carry returns where a body of a description takes a point drawn at v, with the
// coordinates x: worked out joint by joint, with nothing from package network.
func carry(spec network.Spec, x []float64, body string, v r3.Vec) r3.Vec {
	for body != "" {
		b, first := find(spec, body)
		switch b.Kind {
		case network.Crank:
			at := b.Point.Vec()
			v = r3.Add(at, r3.NewRotation(x[first], r3.Vec(b.Axis)).Rotate(r3.Sub(v, at)))
		case network.Slider:
			v = r3.Add(v, r3.Scale(x[first], r3.Unit(r3.Vec(b.Axis))))
		case network.Plate:
			return plate(b, b, x[first:first+3], v)
		case network.Ring:
			on, first := find(spec, b.On)
			return plate(b, on, x[first:first+3], v)
		}
		body = b.On
	}
	return v
}

// plate carries v with a plate or with a ring on it: x is the height and the level parts
// of the normal.
func plate(b, on network.Body, x []float64, v r3.Vec) r3.Vec {
	v.Z -= float64(on.Height)
	nz := math.Sqrt(1 - x[1]*x[1] - x[2]*x[2])
	n := r3.Vec{X: x[1], Y: x[2], Z: nz}
	m, marked := b.Mark.Bearing()
	if !marked {
		// R = I + [w] + [w]² / (1 + nz), w = z x n
		w := r3.Cross(r3.Vec{Z: 1}, n)
		wv := r3.Cross(w, v)
		v = r3.Add(v, r3.Add(wv, r3.Scale(1/(1+nz), r3.Cross(w, wv))))
	} else {
		e := r3.Vec{X: math.Sin(float64(m)), Y: math.Cos(float64(m))}
		p := r3.Unit(r3.Vec{X: nz * e.X, Y: nz * e.Y, Z: -r3.Dot(n, e)})
		q := r3.Cross(p, n)
		v = r3.Add(r3.Scale(r3.Dot(v, e), p), r3.Add(r3.Scale(v.X*e.Y-v.Y*e.X, q), r3.Scale(v.Z, n)))
	}
	v.Z += x[0]
	return v
}

// find returns a body and the index of its first coordinate.
func find(spec network.Spec, name string) (network.Body, int) {
	first := 0
	for _, b := range spec.Bodies {
		if b.Name == name {
			return b, first
		}
		first += freedoms(b.Kind)
	}
	return network.Body{}, 0
}

func freedoms(k network.Kind) int {
	switch k {
	case network.Plate:
		return 3
	case network.Ring:
		return 0
	}
	return 1
}

// strains returns how much longer than its own length each link is, with the
// coordinates x.
func strains(spec network.Spec, x []float64) []float64 {
	at := map[string]r3.Vec{}
	for _, b := range spec.Balls {
		at[b.Name] = carry(spec, x, b.Body, b.At.Vec())
	}
	var list []float64
	for _, l := range spec.Links {
		list = append(list, r3.Norm(r3.Sub(at[l.A], at[l.B]))-float64(l.Length))
	}
	return list
}

// energy returns that of the strains, over the stiffest link's stiffness.
func energy(spec network.Spec, x []float64) (sum float64) {
	stiffest := 0.
	for _, l := range spec.Links {
		stiffest = max(stiffest, float64(l.Stiffness))
	}
	for i, e := range strains(spec, x) {
		w := 1.
		if stiffest > 0 {
			w = float64(spec.Links[i].Stiffness) / stiffest
		}
		sum += w * e * e / 2
	}
	return sum
}
