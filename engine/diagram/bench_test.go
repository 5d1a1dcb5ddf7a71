package diagram

import "testing"

func BenchmarkSVG(b *testing.B) {
	s := demo(b, "hut-05")
	for b.Loop() {
		Lay(s, Options{Abreast: 2}).SVG(readings)
	}
}

func BenchmarkAround(b *testing.B) {
	l := Lay(demo(b, "hut-05"), Options{})
	for b.Loop() {
		l.Around("post-pos", "post-neg", "", 40)
	}
}
