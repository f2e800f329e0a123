package describe

import "stead/substitution"

func bearingGrammars() map[substitution.Family]*grammar {
	envelope := []slot{
		{dim: "bore_mm", labels: "bore", units: "mm none", within: "3..60", alone: "never"},
		{dim: "outer_mm", labels: "outer", units: "mm none", within: "6..80", alone: "never"},
		{dim: "width_mm", labels: "width height thickness", units: "mm none", within: "2..25", alone: "never"},
	}
	return map[substitution.Family]*grammar{
		"cartridge-bearing": {
			also:  []reader{readBearing},
			words: "seal clearance rows full_complement outer_ring",
			slots: envelope,
			forms: []string{"bore_mm x outer_mm x width_mm", "bore_mm / outer_mm / width_mm", "bore_mm - outer_mm - width_mm"},
		},
		"headset-bearing": {
			also:  []reader{readAngles, readHeadsetEnvelope},
			words: "position",
			slots: []slot{
				{dim: "bore_mm", labels: "bore", units: "mm none", within: "24..46", alone: "never"},
				{dim: "outer_mm", labels: "outer diameter", units: "mm none", within: "36..58", alone: "38|41|41.8|44|46.9|47|49|49.6|51|51.8|51.9|52", bare: "41|41.8|46.9|47|49|49.6|51.8|52"},
				{dim: "width_mm", labels: "width height thickness", units: "mm none", within: "5..12", alone: "6.5|7|8"},
				{dim: "inner_angle_deg", labels: "inner bore", units: "degree", within: "36|45", alone: "never"},
				{dim: "outer_angle_deg", labels: "outer", units: "degree", within: "36|45", alone: "never"},
			},
			forms: []string{"outer_mm x width_mm"},
		},
		"loose-balls": {
			also:  []reader{readBall},
			words: "ball_mm",
			slots: []slot{
				{dim: "grade", labels: "grade", units: "none", within: "3|5|10|16|20|24|25|28|40|50|60|100|200|500|1000", alone: "never"},
			},
		},
		"ball-cage": {
			also:  []reader{readBallCage, readBall},
			words: "ball_mm",
			slots: []slot{
				{dim: "balls", labels: "balls", units: "balls none", within: "5..40"},
				{dim: "outer_mm", labels: "outer", units: "mm none", within: "12..60", alone: "never"},
				{dim: "bore_mm", labels: "bore", units: "mm none", within: "6..50", alone: "never"},
			},
		},
		"headset": {
			also:  []reader{readHeadset, readSteerer},
			words: "kind",
			slots: []slot{
				{dim: "stack_mm", labels: "stack", units: "mm none", within: "5..60", alone: "never"},
				{dim: "steerer_mm", labels: "steerer", units: "mm none", within: "22.2|25.4|28.6|31.8|38.1", alone: "25.4|28.6"},
				{dim: "crown_mm", labels: "crown", units: "mm none", within: "26|26.4|26.5|26.7|27|27.0|30|33|38|39|39.8|40|45|52", alone: "26.4|27", bare: "26.4"},
			},
			forms: []string{"#22|22.2 / #29..31 / crown_mm", "#22|22.2 x #29..31 x crown_mm", "#22|22.2 - #29..31 - crown_mm", "steerer_mm / #29..31 / crown_mm", "steerer_mm x #29..31 x crown_mm", "steerer_mm - #29..31 - crown_mm"},
		},
		"bottom-bracket": {
			also:  []reader{readShellThread, readPressFit41},
			words: "shell spindle_interface",
			slots: []slot{
				{dim: "shell_mm", labels: "shell width", units: "mm none", within: "61|65|66|68|70|71|73|76|77|79|83|85.5|86|86.5|89.5|90|92|95|100|104.5|107|121", alone: "68|70|73|83|86.5|100", bare: "68|70|73|83|85.5|86.5|89.5|91.5|92|104.5", joined: "68|70|73|83"},
				{dim: "spindle_mm", labels: "spindle length", units: "mm none", within: "98..185", alone: "102..175", joined: "102..150", bare: "103|107|108|110|110.5|111|113|115|115.5|116|118|119|121|122|122.5|124|127|127.5"},
				{dim: "spindle_interface", labels: "spindle", units: "mm none", within: "19|24|30", alone: "24|30", word: "mm"},
			},
			forms: []string{"#68 / #73 x spindle_mm", "#68 / #73 - spindle_mm", "#68 / #73", "shell_mm x spindle_mm", "shell_mm / spindle_mm", "shell_mm - spindle_mm"},
		},
	}
}
