package quantity

import "testing"

func TestReadHeat(t *testing.T) {
	checkTypings(t, "celsius", []typing{
		ok("54", 54, 1),
		ok("54 °C", 54, 1),
		ok("54 ° C", 54, 1),
		ok("54c", 54, 1),
		ok("54C", 54, 1),
		ok("54 ℃", 54, 1),
		ok("54 degC", 54, 1),
		ok("54 deg c", 54, 1),
		ok("54 degrees", 54, 1),
		ok("54°", 54, 1),
		ok("54 degrees celsius", 54, 1),
		ok("54 centigrade", 54, 1),
		ok("-3.5", -3.5, 0.1),
		ok("130F", 54.444444444444444, 0.55555555555555556),
		ok("130 °F", 54.444444444444444, 0.55555555555555556),
		ok("130 degrees Fahrenheit", 54.444444444444444, 0.55555555555555556),
		ok("32 f", 0, 0.55555555555555556),
		ok("-40F", -40, 0.55555555555555556),
		asked("300 K", "is a difference of temperature"),
		asked("54 V", "is volts"),
	})
	checkTypings(t, "kelvin", []typing{
		ok("15", 15, 1),
		ok("15 K", 15, 1),
		ok("15 C", 15, 1),
		ok("15 °C", 15, 1),
		ok("15 degrees", 15, 1),
		ok("27 F", 15, 0.55555555555555556),
		ok("27 °F", 15, 0.55555555555555556),
		ok("-5 K", -5, 1),
	})
}

func TestReadArea(t *testing.T) {
	awg10, awg1, awg20, awg30, awg40 := AWGArea(10), AWGArea(0), AWGArea(-1), AWGArea(-2), AWGArea(-3)
	checkTypings(t, "area", []typing{
		ok("6mm2", 6, 1),
		ok("6 mm²", 6, 1),
		ok("6 mm^2", 6, 1),
		ok("6 MM2", 6, 1),
		ok("6 sqmm", 6, 1),
		ok("6 sq mm", 6, 1),
		ok("6 sq. mm", 6, 1),
		ok("6 square mm", 6, 1),
		ok("6 square millimetres", 6, 1),
		ok("2.5", 2.5, 0.1),
		ok("2,5", 2.5, 0.1),
		ok("35", 35, 1),
		ok("10 awg", awg10, awg10/100),
		ok("10AWG", awg10, awg10/100),
		ok("awg 10", awg10, awg10/100),
		ok("AWG10", awg10, awg10/100),
		ok("#10", awg10, awg10/100),
		ok("# 10 AWG", awg10, awg10/100),
		ok("10 gauge", awg10, awg10/100),
		ok("10-gauge", awg10, awg10/100),
		ok("10 ga", awg10, awg10/100),
		ok("no. 10", awg10, awg10/100),
		ok("1/0", awg1, awg1/100),
		ok("0 awg", awg1, awg1/100),
		ok("2/0 awg", awg20, awg20/100),
		ok("2 / 0 AWG", awg20, awg20/100),
		ok("awg 2/0", awg20, awg20/100),
		ok("00 awg", awg20, awg20/100),
		ok("3/0", awg30, awg30/100),
		ok("000 AWG", awg30, awg30/100),
		ok("4/0", awg40, awg40/100),
		ok("0000 awg", awg40, awg40/100),
		ok("250 kcmil", 126.67686977, 0.50670747908),
		ok("250 MCM", 126.67686977, 0.50670747908),
		asked("10", "could be mm2 or a gauge", "10 mm2", "10 AWG"),
		asked("4", "could be mm2 or a gauge", "4 mm2", "4 AWG"),
		asked("0", "could be mm2 or a gauge", "0 AWG"),
		asked("5/0", "gauges from 4/0 to 40"),
		asked("10.5 awg", "gauges from 4/0 to 40"),
		asked("99 awg", "gauges from 4/0 to 40"),
		asked("-10 awg", "gauges from 4/0 to 40"),
		asked("6 mm", "area in mm2 or its width", "6 mm2"),
		asked("2x6 mm2", "more than one figure"),
		asked("6 m", "is metres"),
		asked("10 swg", "don't know"),
	})
}

func TestReadLength(t *testing.T) {
	checkTypings(t, "metres", []typing{
		ok("3.5", 3.5, 0.1),
		ok("3.5m", 3.5, 0.1),
		ok("3,5 m", 3.5, 0.1),
		ok("3.5 M", 3.5, 0.1),
		ok("3.5 metres", 3.5, 0.1),
		ok("3.5 meters", 3.5, 0.1),
		ok("350 cm", 3.5, 0.01),
		ok("3500 mm", 3.5, 0.001),
		ok("3500 MM", 3.5, 0.001),
		ok("0.2 km", 200, 100),
		ok("42 in", 1.0668, 0.0254),
		ok("42 inches", 1.0668, 0.0254),
		ok("42\"", 1.0668, 0.0254),
		ok("42”", 1.0668, 0.0254),
		ok("5'", 1.524, 0.3048),
		ok("5 ft", 1.524, 0.3048),
		ok("5 feet", 1.524, 0.3048),
		ok("2 yards", 1.8288, 0.9144),
		ok("3 ft 6 in", 1.0668, 0.0254),
		ok("3ft6in", 1.0668, 0.0254),
		ok("3ft 6", 1.0668, 0.0254),
		ok("3'6\"", 1.0668, 0.0254),
		ok("3' 6\"", 1.0668, 0.0254),
		ok("3′6″", 1.0668, 0.0254),
		ok("3'6", 1.0668, 0.0254),
		ok("3 feet and 6 inches", 1.0668, 0.0254),
		ok("3 ft, 6 in", 1.0668, 0.0254),
		ok("3 ft 6.5 in", 1.0795, 0.00254),
		ok("3 ft 6 1/2 in", 1.0795, 0.0127),
		ok("6 1/2 in", 0.1651, 0.0127),
		ok("6½ in", 0.1651, 0.0127),
		ok("1/2 in", 0.0127, 0.0127),
		ok("3/8\"", 0.009525, 0.003175),
		ok("1/2 m", 0.5, 0.5),
		ok("3m50", 3.5, 0.01),
		ok("1 m 20 cm", 1.2, 0.01),
		asked("3m5", "more than one figure"),
		asked("3 ft 14 in", "more than one figure"),
		asked("6 in 3 ft", "more than one figure"),
		asked("3.5 ft 6 in", "more than one figure"),
		asked("3/2 in", "more than one figure"),
		asked("1/0", "more than one figure"),
		asked("10-12 m", "a range"),
		asked("3 s", "is seconds"),
	})
}

func TestReadTime(t *testing.T) {
	checkTypings(t, "hours", []typing{
		ok("2", 2, 1),
		ok("2 h", 2, 1),
		ok("2 hrs", 2, 1),
		ok("two hours", 2, 1),
		ok("an hour", 1, 1),
		ok("half an hour", 0.5, 0.1),
		ok("1/2 hour", 0.5, 0.5),
		ok("1h30", 1.5, 1.0/60),
		ok("1h30m", 1.5, 1.0/60),
		ok("1 h 30 min", 1.5, 1.0/60),
		ok("1 hour 30 min", 1.5, 1.0/60),
		ok("1 hour and 30 minutes", 1.5, 1.0/60),
		ok("90 min", 1.5, 1.0/60),
		ok("90 m", 1.5, 1.0/60),
		ok("2 days", 48, 24),
		ok("1 day 6 hours", 30, 1),
		ok("1 week", 168, 168),
		asked("1:30", "hours and minutes or minutes and seconds", "1 h 30 min", "1 min 30 s"),
		asked("1h90", "more than one figure"),
		asked("2-3 hours", "a range"),
	})
	checkTypings(t, "minutes", []typing{
		ok("90 min", 90, 1),
		ok("1h30", 90, 1),
		ok("1 hour 30 min", 90, 1),
		ok("20", 20, 1),
		ok("5m30s", 5.5, 1.0/60),
		ok("5 min 30", 5.5, 1.0/60),
		ok("90 s", 1.5, 1.0/60),
	})
	checkTypings(t, "seconds", []typing{
		ok("30", 30, 1),
		ok("30 secs", 30, 1),
		ok("250 ms", 0.25, 0.001),
		ok("1 min 30 s", 90, 1),
		ok("2 minutes", 120, 60),
	})
}

func TestReadPlain(t *testing.T) {
	checkTypings(t, "percent", []typing{
		ok("40 %", 40, 1),
		ok("40%", 40, 1),
		ok("40 percent", 40, 1),
		ok("40 per cent", 40, 1),
		ok("40", 40, 1),
		asked("0,400 V", "is volts"),
	})
	checkTypings(t, "newton-metres", []typing{
		ok("8 Nm", 8, 1),
		ok("8 N·m", 8, 1),
		ok("8 nm", 8, 1),
		ok("8 newton metres", 8, 1),
		ok("10 ft-lb", 13.558179483314, 1.3558179483314),
		ok("10 lb-ft", 13.558179483314, 1.3558179483314),
		ok("71 in-lbs", 8.0219228609607, 0.11298482902762),
	})
	checkTypings(t, "count", []typing{
		ok("3", 3, 1),
		ok("three", 3, 1),
		ok("3 panels", 3, 1),
		ok("3x", 3, 1),
		ok("4 cells in series", 4, 1),
		ok("3.0", 3, 0.1),
		asked("2.5", "a whole number"),
		asked("2 or 3", "more than one figure"),
		asked("3 V", "is volts"),
		asked("3 dozen", "don't know"),
		asked("40 %", "is per cent"),
	})
	checkTypings(t, "ratio", []typing{
		ok("1.25", 1.25, 0.01),
		ok("1/2", 0.5, 0.5),
		asked("40 %", "is per cent"),
		asked("1.25 A", "is amps"),
		asked("1:2", "more than one figure"),
	})
}

func TestReadRough(t *testing.T) {
	k := kindOf(t, "amps")
	for _, text := range []string{"about 40", "About 40 A", "~40", "~ 40", "≈40", "ca. 40", "ca 40", "circa 40", "approx 40", "approx. 40 A",
		"approximately 40", "roughly 40", "around 40 amps", "nearly 40", "it is about 40", "about 40 amps or so", "40 or so", "40ish", "40-ish",
		"40 A roughly", "maybe 40", "i think 40", "i think it's about 40", "40 more or less"} {
		t.Run(text, func(t *testing.T) {
			got, err := Read(text, k)
			if err != nil {
				t.Fatal(err)
			}
			if got.Value != 40 || !got.About {
				t.Fatalf("read %v, about %v; want about 40", got.Value, got.About)
			}
		})
	}
	for _, text := range []string{"40", "it is 40 A", "exactly 40"} {
		t.Run(text, func(t *testing.T) {
			if got, err := Read(text, k); err != nil || got.About {
				t.Fatalf("about %v, error %v; want an exact 40", got.About, err)
			}
		})
	}
}

func TestReadKeepsGaugeCurrentAndText(t *testing.T) {
	area, volts := kindOf(t, "area"), kindOf(t, "volts")
	for _, c := range []struct{ text, gauge string }{{"10 awg", "10"}, {"2/0", "2/0"}, {"00 awg", "2/0"}, {"0 AWG", "1/0"}, {"6 mm2", ""}} {
		if got, err := Read(c.text, area); err != nil || got.AWG != c.gauge {
			t.Errorf("%s: gauge %q, error %v; want %q", c.text, got.AWG, err, c.gauge)
		}
	}
	for text, ac := range map[string]bool{"230 V AC": true, "230 vac": true, "230 volts ac": true, "12 vdc": false, "12": false} {
		if got, err := Read(text, volts); err != nil || got.AC != ac {
			t.Errorf("%s: AC %v, error %v; want %v", text, got.AC, err, ac)
		}
	}
	if got, _ := Read("  it is 12.6 V ", volts); got.Text != "it is 12.6 V" {
		t.Errorf("text %q, want it as typed without the spaces around", got.Text)
	}
}
