package drill

import (
	"fmt"
	"strconv"
)

// Dates are counted in days, by the rules of the calendar alone: the engine has no
// clock.

// dayOf is the number of a date written as 2026-05-04, counted from 2000-03-01.
// False: it is no date after that.
func dayOf(date string) (day int, ok bool) {
	if len(date) != len("2026-05-04") || date[4] != '-' || date[7] != '-' {
		return 0, false
	}
	y, err1 := strconv.Atoi(date[:4])
	m, err2 := strconv.Atoi(date[5:7])
	d, err3 := strconv.Atoi(date[8:])
	if err1 != nil || err2 != nil || err3 != nil || y < 2000 || m < 1 || m > 12 {
		return 0, false
	}
	// Years that begin in March end in the odd February.
	if m -= 3; m < 0 {
		m, y = m+12, y-1
	}
	y -= 2000
	day = 365*y + y/4 - y/100 + y/400 + (153*m+2)/5 + d - 1
	return day, day >= 0 && dateOf(day) == date
}

// dateOf is the date of a day's number.
func dateOf(day int) string {
	y := day / 366
	for start(y+1) <= day {
		y++
	}
	left := day - start(y)
	m := (5*left + 2) / 153
	d := left - (153*m+2)/5 + 1
	if m += 3; m > 12 {
		m, y = m-12, y+1
	}
	return fmt.Sprintf("%04d-%02d-%02d", 2000+y, m, d)
}

// start is the first of March of a year counted from 2000.
func start(y int) int { return 365*y + y/4 - y/100 + y/400 }
