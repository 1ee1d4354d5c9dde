package gauge

import (
	"fmt"
	"testing"
)

func BenchmarkStudy(b *testing.B) {
	const builds = 2000
	for _, name := range machines {
		for _, workers := range []int{1, 2} {
			b.Run(fmt.Sprintf("%s/%d workers", name, workers), func(b *testing.B) {
				session := sessionOf(b, name)
				b.ReportAllocs()
				for b.Loop() {
					if _, err := session.Study(b.Context(), Study{Mode: "hover", Builds: builds, Workers: workers}); err != nil {
						b.Fatal(err)
					}
				}
				b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*builds), "ns/build")
			})
		}
	}
}
