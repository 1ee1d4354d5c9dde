package lsq_test

import (
	"bufio"
	"encoding/json"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"example.org/levelhead/pitch/gauge/internal/lsq"
)

// ones gives values a sigma of 1, as the certified fits are unweighted.
func ones(values []float64) []lsq.Datum {
	data := make([]lsq.Datum, len(values))
	for i, v := range values {
		data[i] = lsq.Datum{Value: v, Sigma: 1}
	}
	return data
}

func off(got, want float64) float64 { return math.Abs(got/want - 1) }

const (
	// linearTolerance is the agreement with the exact linear answers, relative.
	// Pontius's columns are nearly collinear, and yet 1e-12 was seen.
	linearTolerance = 1e-11
	// certifiedTolerance is half a unit in the last of 11 certified digits.
	certifiedTolerance = 6e-11
	// refinedTolerance is the agreement with the optima refined at 50 digits; 5e-12
	// was seen.
	refinedTolerance = 2e-11
)

type linearSet struct {
	x, y                 []float64
	certified, sd, exact []float64
	residualSD, r2       float64
}

func readLinear(t *testing.T, path string) linearSet {
	t.Helper()
	file, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	number := func(s string) float64 {
		v, err := strconv.ParseFloat(s, 64)
		if err != nil {
			t.Fatalf("%s: %v", path, err)
		}
		return v
	}
	var set linearSet
	lines := bufio.NewScanner(file)
	for lines.Scan() {
		cells := strings.Split(strings.TrimPrefix(lines.Text(), "# "), ",")
		switch comment := strings.HasPrefix(lines.Text(), "#"); {
		case comment && len(cells) == 4 && cells[0][0] == 'b':
			set.certified = append(set.certified, number(cells[1]))
			set.sd = append(set.sd, number(cells[2]))
			set.exact = append(set.exact, number(cells[3]))
		case comment && cells[0] == "sd":
			set.residualSD = number(cells[1])
		case comment && cells[0] == "r2":
			set.r2 = number(cells[1])
		case !comment && cells[0] != "x":
			set.x = append(set.x, number(cells[0]))
			set.y = append(set.y, number(cells[1]))
		}
	}
	if err := lines.Err(); err != nil {
		t.Fatal(err)
	}
	return set
}

// The values are NIST's; the headers of the files name the source.
func TestCertifiedLinear(t *testing.T) {
	for name, rows := range map[string]int{"norris": 36, "pontius": 40} {
		set := readLinear(t, "testdata/"+name+".csv")
		if len(set.x) != rows || len(set.exact) < 2 {
			t.Fatalf("%s: %d rows and %d coefficients", name, len(set.x), len(set.exact))
		}
		p := &lsq.Problem{
			Data:   ones(set.y),
			Params: make([]lsq.Parameter, len(set.exact)),
			Model: func(b, values, derivs []float64) error {
				for i, x := range set.x {
					values[i] = 0
					for j, power := 0, 1.0; j < len(b); j, power = j+1, power*x {
						values[i] += b[j] * power
						derivs[i*len(b)+j] = power
					}
				}
				return nil
			},
		}
		for j := range p.Params {
			p.Params[j].Scale = math.Abs(set.certified[j])
		}
		r, err := lsq.Solve(p)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		s2 := r.DataSum / float64(r.DoF)
		var worst float64
		check := func(what string, got, want float64) {
			worst = max(worst, off(got, want))
			if !(off(got, want) <= linearTolerance) {
				t.Errorf("%s: %s %.16g, want %.16g: off by %.2g", name, what, got, want, off(got, want))
			}
		}
		var mean, total float64
		for _, y := range set.y {
			mean += y / float64(rows)
		}
		for _, y := range set.y {
			total += (y - mean) * (y - mean)
		}
		for j := range r.Params {
			check("estimate", r.Params[j], set.exact[j])
			check("certified estimate", r.Params[j], set.certified[j])
			check("standard deviation", r.Sigma(j)*math.Sqrt(s2), set.sd[j])
		}
		check("residual standard deviation", math.Sqrt(s2), set.residualSD)
		check("R-squared", 1-r.DataSum/total, set.r2)
		t.Logf("%s: worst %.2g, %d steps", name, worst, r.Steps)
	}
}

// curves holds the models of nonlinear.json: each gives the value at x and
// fills the derivatives.
var curves = map[string]func(x float64, b, d []float64) float64{
	"Misra1a": saturation,
	"BoxBOD":  saturation,
	"Misra1b": func(x float64, b, d []float64) float64 {
		q := 1 + b[1]*x/2
		d[0] = 1 - 1/(q*q)
		d[1] = b[0] * x / (q * q * q)
		return b[0] * d[0]
	},
	"Misra1c": func(x float64, b, d []float64) float64 {
		q := math.Sqrt(1 + 2*b[1]*x)
		d[0] = 1 - 1/q
		d[1] = b[0] * x / (q * q * q)
		return b[0] * d[0]
	},
	"Misra1d": func(x float64, b, d []float64) float64 {
		q := 1 + b[1]*x
		d[0] = b[1] * x / q
		d[1] = b[0] * x / (q * q)
		return b[0] * d[0]
	},
	"DanWood": func(x float64, b, d []float64) float64 {
		d[0] = math.Pow(x, b[1])
		d[1] = b[0] * d[0] * math.Log(x)
		return b[0] * d[0]
	},
	"MGH09": func(x float64, b, d []float64) float64 {
		top, bottom := x*(x+b[1]), x*(x+b[2])+b[3]
		d[0] = top / bottom
		d[1] = b[0] * x / bottom
		d[3] = -b[0] * top / (bottom * bottom)
		d[2] = d[3] * x
		return b[0] * d[0]
	},
	"MGH10": func(x float64, b, d []float64) float64 {
		q := x + b[2]
		d[0] = math.Exp(b[1] / q)
		d[1] = b[0] * d[0] / q
		d[2] = -d[1] * b[1] / q
		return b[0] * d[0]
	},
	"MGH17": func(x float64, b, d []float64) float64 {
		d[0] = 1
		d[1], d[2] = math.Exp(-x*b[3]), math.Exp(-x*b[4])
		d[3], d[4] = -x*b[1]*d[1], -x*b[2]*d[2]
		return b[0] + b[1]*d[1] + b[2]*d[2]
	},
	"Rat42": func(x float64, b, d []float64) float64 {
		e := math.Exp(b[1] - b[2]*x)
		d[0] = 1 / (1 + e)
		d[1] = -b[0] * d[0] * d[0] * e
		d[2] = -d[1] * x
		return b[0] * d[0]
	},
	"Rat43": func(x float64, b, d []float64) float64 {
		e := math.Exp(b[1] - b[2]*x)
		d[0] = math.Pow(1+e, -1/b[3])
		d[1] = -b[0] * d[0] * e / (1 + e) / b[3]
		d[2] = -d[1] * x
		d[3] = b[0] * d[0] * math.Log1p(e) / (b[3] * b[3])
		return b[0] * d[0]
	},
	"Eckerle4": func(x float64, b, d []float64) float64 {
		z := (x - b[2]) / b[1]
		d[0] = math.Exp(-z*z/2) / b[1]
		d[1] = b[0] * d[0] * (z*z - 1) / b[1]
		d[2] = b[0] * d[0] * z / b[1]
		return b[0] * d[0]
	},
	"Thurber": func(x float64, b, d []float64) float64 {
		top := b[0] + x*(b[1]+x*(b[2]+x*b[3]))
		bottom := 1 + x*(b[4]+x*(b[5]+x*b[6]))
		d[0] = 1 / bottom
		d[1], d[2], d[3] = x*d[0], x*x*d[0], x*x*x*d[0]
		value := top / bottom
		d[4], d[5], d[6] = -value*d[1], -value*d[2], -value*d[3]
		return value
	},
	"Lanczos3": func(x float64, b, d []float64) float64 {
		var value float64
		for k := 0; k < 6; k += 2 {
			d[k] = math.Exp(-b[k+1] * x)
			d[k+1] = -x * b[k] * d[k]
			value += b[k] * d[k]
		}
		return value
	},
}

func saturation(x float64, b, d []float64) float64 {
	e := math.Exp(-b[1] * x)
	d[0] = 1 - e
	d[1] = b[0] * x * e
	return b[0] * d[0]
}

type nonlinearSet struct {
	Name        string
	X, Y        []float64
	Starts      [][]float64
	Certified   []float64
	CertifiedSD []float64 `json:"certified_sd"`
	CertifiedSS float64   `json:"certified_rss"`
	Refined     []float64
	RefinedSD   []float64 `json:"refined_sd"`
	RefinedSS   float64   `json:"refined_rss"`
}

func readJSON(t *testing.T, path string, into any) {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(data, into); err != nil {
		t.Fatalf("%s: %v", path, err)
	}
}

func (set *nonlinearSet) problem(start []float64) *lsq.Problem {
	curve := curves[set.Name]
	p := &lsq.Problem{
		Data:   ones(set.Y),
		Params: make([]lsq.Parameter, len(start)),
		Model: func(b, values, derivs []float64) error {
			for i, x := range set.X {
				values[i] = curve(x, b, derivs[i*len(b):][:len(b)])
			}
			return nil
		},
	}
	for j, v := range start {
		p.Params[j] = lsq.Parameter{Start: v, Scale: math.Abs(set.Certified[j])}
	}
	return p
}

// The values are NIST's, from memory, each confirmed by strd.py: the header of
// nonlinear.json tells how.
func TestCertifiedNonlinear(t *testing.T) {
	var table struct{ Sets []nonlinearSet }
	readJSON(t, "testdata/nonlinear.json", &table)
	if len(table.Sets) != len(curves) {
		t.Fatalf("%d sets for %d curves", len(table.Sets), len(curves))
	}
	for _, set := range table.Sets {
		for k, start := range set.Starts {
			r, err := lsq.Solve(set.problem(start))
			if err != nil {
				t.Errorf("%s from start %d: %v", set.Name, k+1, err)
				continue
			}
			check := func(what string, got, want, tolerance float64) float64 {
				if !(off(got, want) <= tolerance) {
					t.Errorf("%s from start %d: %s %.16g, want %.16g: off by %.2g", set.Name, k+1, what, got, want, off(got, want))
				}
				return off(got, want)
			}
			var worst float64
			s := math.Sqrt(r.DataSum / float64(r.DoF))
			for j := range r.Params {
				at := j
				if set.Name == "MGH17" && r.Params[1] < 0 {
					at = []int{0, 2, 1, 4, 3}[j] // the same curve with its two exponentials exchanged
				}
				b, sd := r.Params[at], r.Sigma(at)*s
				check("certified parameter", b, set.Certified[j], certifiedTolerance)
				check("certified deviation", sd, set.CertifiedSD[j], certifiedTolerance)
				worst = max(worst,
					check("parameter", b, set.Refined[j], refinedTolerance),
					check("deviation", sd, set.RefinedSD[j], refinedTolerance))
			}
			check("certified sum", r.DataSum, set.CertifiedSS, certifiedTolerance)
			worst = max(worst, check("sum", r.DataSum, set.RefinedSS, refinedTolerance))
			t.Logf("%s from start %d: %d steps, off by %.2g at most", set.Name, k+1, r.Steps, worst)
		}
	}
}
