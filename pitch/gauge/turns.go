package gauge

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"

	"example.org/levelhead/units"
)

// teeth moves servo arms on their splines that stand more than half a tooth off, where
// the readings say so.
func (w *work) teeth() error {
	for i, s := range w.set.Servos() {
		p := Parameter{ServoCentre, i}
		k, ok := w.session.model.place(p)
		if !ok {
			continue
		}
		tooth := float64(s.Type.Spline.Step())
		off, sigma := w.fit.x[k], math.Sqrt(w.fit.covariance.At(k, k))
		count := -math.Round(off / tooth)
		if count == 0 || !w.worthwhile(off, off+count*tooth, 0, units.Angle(sigma)) {
			continue
		}
		x, _ := w.turned(p, count*tooth)
		if err := w.move(x); err != nil {
			return err
		}
		if err := w.did(Step{Action: MoveTooth, What: s.Name + " servo", Index: i, Count: count}); err != nil {
			return err
		}
	}
	return nil
}

// did notes a step that is felt with collective and cyclic at zero.
func (w *work) did(s Step) error {
	goals, err := w.atZero()
	if err != nil {
		return err
	}
	if s.After, err = w.checks(goals); err != nil {
		return err
	}
	w.steps = append(w.steps, s)
	return nil
}

// links levels the plate, collective and cyclic at zero, by half turns of the links
// under it: one after the other, the one that levels it most.
func (w *work) links() error {
	thread, err := w.set.Machine().Plate.LinkThread.Pitch()
	if err != nil {
		return err
	}
	half := float64(thread / 2)
	turned := make([]float64, len(w.session.model.links))
	for range turned {
		right, forward, err := w.tilt()
		if err != nil {
			return err
		}
		best, count, after := -1, 0., math.Hypot(right.value, forward.value)
		for i := range turned {
			k, ok := w.session.model.place(Parameter{ServoLink, i})
			if !ok {
				continue
			}
			a, b := right.slope.AtVec(k)*half, forward.slope.AtVec(k)*half
			if a == 0 && b == 0 {
				continue
			}
			n := -math.Round((a*right.value + b*forward.value) / (a*a + b*b))
			if left := math.Hypot(right.value+n*a, forward.value+n*b); left < after {
				best, count, after = i, n, left
			}
		}
		before := math.Hypot(right.value, forward.value)
		if best < 0 || !w.worthwhile(before, after, w.leastTilt(), w.tiltSigma(right, forward)) {
			break
		}
		x, _ := w.turned(Parameter{ServoLink, best}, count*half)
		if err := w.move(x); err != nil {
			return err
		}
		name := w.session.Name(Parameter{ServoLink, best})
		if err := w.did(Step{Action: TurnLink, What: name, Index: best, Count: count}); err != nil {
			return err
		}
	}
	return nil
}

// tilt looks at the plate with collective and cyclic at zero.
func (w *work) tilt() (right, forward look, err error) {
	looks, err := w.see(w.zero(sight{of: TiltRight}), w.zero(sight{of: TiltForward}))
	if err != nil {
		return look{}, look{}, err
	}
	return looks[0], looks[1], nil
}

// tiltSigma returns the standard error of a tilt's amount along its own direction.
func (w *work) tiltSigma(right, forward look) units.Angle {
	size := math.Hypot(right.value, forward.value)
	if size == 0 {
		return 0
	}
	var slope mat.VecDense
	slope.ScaleVec(right.value/size, right.slope)
	slope.AddScaledVec(&slope, forward.value/size, forward.slope)
	return w.sigma(look{slope: &slope})
}

// pitchLinks brings the blades into track and to what is wanted of them, collective and
// cyclic at zero, by half turns of their pitch links.
func (w *work) pitchLinks() error {
	thread, err := w.set.Machine().Head.LinkThread.Pitch()
	if err != nil {
		return err
	}
	half := float64(thread / 2)
	blades, _, err := w.offAtZero()
	if err != nil {
		return err
	}
	off, per := make([]float64, len(blades)), make([]float64, len(blades))
	for i, l := range blades {
		k, ok := w.session.model.place(Parameter{PitchLink, i})
		if !ok {
			return nil
		}
		off[i], per[i] = l.value, l.slope.AtVec(k)*half
	}
	counts := track(off, per)
	after := make([]float64, len(off))
	for i := range off {
		after[i] = off[i] + counts[i]*per[i]
	}
	worst := blades[furthest(off)]
	low, high := extremes(off)
	var apart mat.VecDense
	apart.SubVec(blades[high].slope, blades[low].slope)
	if !w.worthwhile(off[furthest(off)], after[furthest(after)], w.leastPitch(), w.sigma(worst)) &&
		!w.worthwhile(spread(off), spread(after), w.leastPitch(), w.sigma(look{slope: &apart})) {
		return nil
	}
	for i, count := range counts {
		if count == 0 {
			continue
		}
		x, _ := w.turned(Parameter{PitchLink, i}, count*half)
		if err := w.move(x); err != nil {
			return err
		}
		if err := w.did(Step{Action: TurnPitchLink, What: fmt.Sprintf("blade %d", i+1), Index: i, Count: count}); err != nil {
			return err
		}
	}
	return nil
}

// track returns the half turns of each blade's pitch link that leave the blades least
// apart and, of those, nearest to what is wanted. Off is how far each blade is from
// that, and per what a half turn of its link does.
func track(off, per []float64) []float64 {
	var best []float64
	least, nearest := math.Inf(1), math.Inf(1)
	for first := range off {
		counts := make([]float64, len(off))
		after := make([]float64, len(off))
		counts[first] = -math.Round(off[first] / per[first])
		after[first] = off[first] + counts[first]*per[first]
		for i := range off {
			if i != first {
				counts[i] = math.Round((after[first] - off[i]) / per[i])
				after[i] = off[i] + counts[i]*per[i]
			}
		}
		const rounding = 1e-9 // rad
		apart, far := spread(after), math.Abs(after[furthest(after)])
		if apart < least-rounding || apart < least+rounding && far < nearest-rounding {
			best, least, nearest = counts, apart, far
		}
	}
	return best
}

// extremes returns the places of the lowest and of the highest value.
func extremes(x []float64) (low, high int) {
	for i := range x {
		if x[i] < x[low] {
			low = i
		}
		if x[i] > x[high] {
			high = i
		}
	}
	return low, high
}

func spread(x []float64) float64 {
	low, high := extremes(x)
	return x[high] - x[low]
}

// furthest returns the place of the value furthest from 0.
func furthest(x []float64) int {
	most := 0
	for i := range x {
		if math.Abs(x[i]) > math.Abs(x[most]) {
			most = i
		}
	}
	return most
}
