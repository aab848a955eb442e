package counts_test

import (
	"testing"

	"shopfloat/internal/counts"
)

func BenchmarkParse(b *testing.B) {
	req := shop()
	for name, text := range map[string]string{
		"row": "40 150 200", "faces": "20x150 10x200", "words": "150 twenties, 200 tens",
		"value": "€3000 in 20s",
		"prose": "2 notes stuck in the machine what now",
	} {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				counts.Parse(text, req)
			}
		})
	}
}
