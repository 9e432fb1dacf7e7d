package radio

import (
	"math"
	"strings"
	"testing"
)

// names are the modulations as the tables call them.
var names = map[string]Modulation{
	"noncoherent BFSK (orthogonal)":      FSKNoncoherent,
	"coherent BFSK (orthogonal)":         FSKCoherent,
	"BPSK / QPSK / coherent MSK":         PSK,
	"DBPSK":                              DBPSK,
	"coherent GMSK BT=0.25 (alpha 0.68)": GMSK,
}

// Source: testdata/radio/ber_check.csv, closed forms.
func TestBitErrorRate(t *testing.T) {
	for _, row := range reference(t, "ber_check.csv") {
		m := names[row["modulation"]]
		got, want := m.BitErrorRate(number(t, row["ebn0_db"])), number(t, row["ber"])
		near(t, row["modulation"]+" at "+row["ebn0_db"], got/want, 1, 2e-6)
	}
	if !math.IsNaN(Modulation("smoke").BitErrorRate(10)) {
		t.Error("an error rate for smoke")
	}
}

// Source: testdata/radio/ebn0_required.csv.
func TestRequired(t *testing.T) {
	for _, row := range reference(t, "ebn0_required.csv") {
		for column, rate := range map[string]float64{"ber_1e-2": 1e-2, "ber_1e-3": 1e-3, "ber_1e-4": 1e-4, "ber_1e-5": 1e-5, "ber_1e-6": 1e-6} {
			near(t, row["modulation"]+" "+column, names[row["modulation"]].RequiredDB(rate), number(t, row[column]), 1e-3)
		}
	}
}

// Source: testdata/radio/detection_thresholds.csv, which rounds Eb/N0 to 0.1 dB;
// its rows of common practice are common practice here.
func TestDecodingThresholds(t *testing.T) {
	rows := map[string]string{
		"CW": "CW by ear, 12 words/min (10 baud)", "BPSK 1200": "BPSK uncoded 1200",
		"BPSK 1200 coded": "BPSK 1200 + r=1/2 K=7 convolutional",
		"GMSK 1200":       "GMSK/GFSK 1200 non-coherent", "GMSK 2400": "GMSK/GFSK 2400 non-coherent",
		"GMSK 4800": "GMSK/GFSK 4800 non-coherent", "GMSK 9600": "GMSK/GFSK 9600 non-coherent",
		"GMSK 9600 coherent": "GMSK 9600 coherent BT 0.5",
		"FSK 9600 scrambled": "FSK 9600 scrambled, discriminator (older terrestrial-type modems)",
		"AFSK 1200":          "AFSK 1200 on FM",
	}
	table := reference(t, "detection_thresholds.csv")
	if len(table) != len(Modes()) {
		t.Errorf("%d modes, the table has %d", len(Modes()), len(table))
	}
	for _, m := range Modes() {
		for _, row := range table {
			if row["mode"] == rows[m.Name] {
				near(t, m.Name+" bandwidth", m.BandwidthHz, number(t, row["noise_bandwidth_hz"]), 0)
				near(t, m.Name, m.DecodingSNRDB.High, number(t, row["snr_in_bandwidth_db"]), 0.06)
				near(t, m.Name+" over the density", m.DecodingSNRDB.High+decibels(m.BandwidthHz), number(t, row["cn0_dbhz"]), 0.06)
				if common := strings.Contains(row["basis"], "common practice"); common != strings.Contains(m.Basis, "common practice") {
					t.Errorf("%s: basis %q, the table's is %q", m.Name, m.Basis, row["basis"])
				}
			}
		}
		if found, err := FindMode(m.Name); err != nil || found != m {
			t.Errorf("%s: found %+v, %v", m.Name, found, err)
		}
	}
}

// Source: testdata/radio/lora_limits.csv.
func TestLoRa(t *testing.T) {
	for _, row := range reference(t, "lora_limits.csv") {
		m, err := LoRa(int(number(t, row["sf"])), number(t, row["bw_hz"]))
		if err != nil {
			t.Fatal(err)
		}
		near(t, m.Name, m.DecodingSNRDB.Low, number(t, row["snr_limit_db"]), 0)
		// The table takes -174 dBm/Hz where kT0 is -173.975, and a noise figure of 6 dB.
		near(t, m.Name+" sensitivity", ThermalNoiseDBm(t0, m.BandwidthHz)+6+m.DecodingSNRDB.High, number(t, row["sensitivity_nf6_dbm"])+0.0248, 1e-3)
	}
	if m, err := FindMode("LoRa SF10 125k"); err != nil || m.DecodingSNRDB.Low != -15 || m.BandwidthHz != 125000 {
		t.Errorf("%+v, %v", m, err)
	}
	for name, want := range map[string]string{
		"LoRa SF13 125k": "13, want 5 to 12", "LoRa SF9 0k": "want 1000 to 2000000", "Morse": "want CW, BPSK 1200,", "LoRa SF9 125k ": "isn't known",
	} {
		if _, err := FindMode(name); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v, want %q", name, err, want)
		}
	}
}
