package drill

import (
	"testing"
	"time"
)

// For forty years of days the count agrees with the calendar of the library.
func TestDays(t *testing.T) {
	first := time.Date(2000, 3, 1, 0, 0, 0, 0, time.UTC)
	for n := range 40 * 366 {
		date := first.AddDate(0, 0, n).Format(time.DateOnly)
		if got, ok := dayOf(date); !ok || got != n {
			t.Fatalf("%s is day %d, %v; want %d", date, got, ok, n)
		}
		if got := dateOf(n); got != date {
			t.Fatalf("day %d is %s, want %s", n, got, date)
		}
	}
}

func TestNoDates(t *testing.T) {
	for _, s := range []string{"", "2026-13-01", "2026-02-30", "2026-2-3", "1999-01-01", "2026/05/04", "2026-05-04 ", "20x6-05-04", "2026-00-10", "2026-05-00"} {
		if n, ok := dayOf(s); ok {
			t.Errorf("%q is taken as day %d", s, n)
		}
	}
}
