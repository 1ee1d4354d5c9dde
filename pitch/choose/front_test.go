package choose

import (
	"math"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// Worked by hand on squared paper: (2, 2) dominates (3, 2) and (2, 4), (1, 5) and
// (4, 1) are best at one thing each, and (2, 2) is there twice. In the load all are
// alike, so that none is best at it.
func TestFrontByHand(t *testing.T) {
	points := [][]float64{{3, 2, 7}, {2, 2, 7}, {4, 1, 7}, {2, 4, 7}, {1, 5, 7}, {2, 2, 7}}
	on := front(points)
	if diff := cmp.Diff([]int{4, 1, 5, 2}, on); diff != "" {
		t.Errorf("front (-want +got):\n%s", diff)
	}
	want := []Member{
		{Index: 4, Best: []Objective{Tilt}, Behind: []Behind{{Resolution, 1, 3}}},
		{Index: 1, Behind: []Behind{{Tilt, 0, 1}, {Resolution, 3, 1}}},
		{Index: 5, Behind: []Behind{{Tilt, 0, 1}, {Resolution, 3, 1}}},
		{Index: 2, Best: []Objective{Resolution}, Behind: []Behind{{Tilt, 1, 2}}},
	}
	if diff := cmp.Diff(want, members(points, on, []Objective{Tilt, Resolution, Load})); diff != "" {
		t.Errorf("members (-want +got):\n%s", diff)
	}
}

// drawPoints draws points of whole numbers, few enough for ties.
func drawPoints(t *rapid.T) [][]float64 {
	n := rapid.IntRange(1, 4).Draw(t, "objectives")
	point := rapid.SliceOfN(rapid.Map(rapid.IntRange(0, 5), func(i int) float64 { return float64(i) }), n, n)
	return rapid.SliceOfN(point, 0, 40).Draw(t, "points")
}

// The front is all points that no point dominates, by the definition and nothing else.
func TestFrontIsTheUndominated(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		points := drawPoints(t)
		on := front(points)
		for i, p := range points {
			dominated := slices.ContainsFunc(points, func(q []float64) bool {
				noWorse, better := true, false
				for k := range q {
					noWorse, better = noWorse && q[k] <= p[k], better || q[k] < p[k]
				}
				return noWorse && better
			})
			if got := slices.Contains(on, i); got == dominated {
				t.Fatalf("point %d, %v: on the front %v, dominated %v", i, p, got, dominated)
			}
			if dominated && !slices.ContainsFunc(on, func(k int) bool { return dominates(points[k], p) }) {
				t.Fatalf("point %d, %v: no member of the front dominates it", i, p)
			}
		}
		for m, i := range on {
			if slices.ContainsFunc(on, func(k int) bool { return dominates(points[k], points[i]) }) {
				t.Fatalf("%v is on the front and dominated there", points[i])
			}
			if m > 0 && slices.Compare(points[on[m-1]], points[i]) > 0 {
				t.Fatalf("the front does not rise from %v to %v", points[on[m-1]], points[i])
			}
		}
	})
}

// A dominated point more changes nothing, and neither does the order of the points.
func TestFrontIsStable(t *testing.T) {
	values := func(points [][]float64) [][]float64 {
		var all [][]float64
		for _, i := range front(points) {
			all = append(all, points[i])
		}
		return all
	}
	rapid.Check(t, func(t *rapid.T) {
		points := drawPoints(t)
		want := values(points)
		shuffled := rapid.Permutation(points).Draw(t, "order")
		if diff := cmp.Diff(want, values(shuffled)); diff != "" {
			t.Fatalf("in another order (-want +got):\n%s", diff)
		}
		if len(points) == 0 {
			return
		}
		worse := slices.Clone(rapid.SampledFrom(points).Draw(t, "worse than"))
		worse[rapid.IntRange(0, len(worse)-1).Draw(t, "in")]++
		if diff := cmp.Diff(want, values(append(points, worse))); diff != "" {
			t.Fatalf("with %v more (-want +got):\n%s", worse, diff)
		}
	})
}

// What a member gives up is nothing less than its way to the next better one.
func TestMembers(t *testing.T) {
	objectives := []Objective{Tilt, Resolution, Load, Stroke}
	rapid.Check(t, func(t *rapid.T) {
		points := drawPoints(t)
		on := front(points)
		for m, member := range members(points, on, objectives[:max(1, dimension(points))]) {
			mine := points[member.Index]
			for k := range mine {
				next, most := math.Inf(-1), mine[k]
				for _, i := range on {
					most = math.Max(most, points[i][k])
					if points[i][k] < mine[k] {
						next = math.Max(next, points[i][k])
					}
				}
				at := slices.IndexFunc(member.Behind, func(b Behind) bool { return b.Objective == objectives[k] })
				none := math.IsInf(next, -1)
				if best := slices.Contains(member.Best, objectives[k]); best != (none && most > mine[k]) || none != (at < 0) {
					t.Fatalf("member %d, %v, objective %d: best %v, next %v", m, mine, k, best, next)
				}
				if at < 0 {
					continue
				}
				if b := member.Behind[at]; b.By != mine[k]-next || points[on[b.Neighbour]][k] != next {
					t.Fatalf("member %d, %v: %+v, want the next at %v", m, mine, b, next)
				}
			}
		}
	})
}

func dimension(points [][]float64) int {
	if len(points) == 0 {
		return 0
	}
	return len(points[0])
}
