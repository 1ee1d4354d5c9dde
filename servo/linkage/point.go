package linkage

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"example.org/levelhead/units"
)

// Point is a position in the machine's frame, or a change of one.
type Point struct {
	X units.Length `json:"x"` // from the mast axis to the right
	Y units.Length `json:"y"` // from the mast axis forward, to the nose
	Z units.Length `json:"z"` // up; any level can be 0, as long as all points count from it
}

// Direction is a direction in the same frame: X right, Y forward, Z up. Its length does not
// matter, and only (0, 0, 0) is no direction.
type Direction struct {
	X float64 `json:"x"`
	Y float64 `json:"y"`
	Z float64 `json:"z"`
}

// Vec returns p in metres, for calculations with gonum's spatial/r3.
func (p Point) Vec() r3.Vec {
	return r3.Vec{X: float64(p.X), Y: float64(p.Y), Z: float64(p.Z)}
}

// PointOf returns the point at v metres.
func PointOf(v r3.Vec) Point {
	return Point{units.Length(v.X), units.Length(v.Y), units.Length(v.Z)}
}

// Along returns the point at a distance from p in a direction, or against it for a negative
// distance. For the direction (0, 0, 0) it is p itself.
func (p Point) Along(d Direction, distance units.Length) Point {
	u, _ := d.unit()
	return PointOf(r3.Add(p.Vec(), r3.Scale(float64(distance), u)))
}

// Distance returns how far p and q are apart.
func (p Point) Distance(q Point) units.Length {
	return units.Length(r3.Norm(r3.Sub(p.Vec(), q.Vec())))
}

// notFinite returns the path of the first coordinate that is no finite number, such as ".X",
// and "" where there is none.
func (p Point) notFinite() string {
	return Direction{float64(p.X), float64(p.Y), float64(p.Z)}.notFinite()
}

// notFinite is that of Point.
func (d Direction) notFinite() string {
	for _, c := range [...]struct {
		path  string
		value float64
	}{{".X", d.X}, {".Y", d.Y}, {".Z", d.Z}} {
		if math.IsNaN(c.value) || math.IsInf(c.value, 0) {
			return c.path
		}
	}
	return ""
}

// unit returns the direction at length 1. The zero direction and directions
// that are not finite have none.
func (d Direction) unit() (r3.Vec, bool) {
	largest := math.Max(math.Abs(d.X), math.Max(math.Abs(d.Y), math.Abs(d.Z)))
	if !(largest > 0) || math.IsInf(largest, 0) {
		return r3.Vec{}, false
	}
	// Scaled first, so that the squares neither overflow nor vanish.
	return r3.Unit(r3.Vec{X: d.X / largest, Y: d.Y / largest, Z: d.Z / largest}), true
}
