package substitution

// Sources that several families rest on.
var (
	byArithmetic   = Source{"follows from the dimensions", Arithmetic}
	byLook         = Source{"looks are the owner's to judge", Practice}
	byOldPart      = Source{"the part that was there fitted", Practice}
	byChainPages   = Source{"Wikibooks, bicycle chain sizes; Sheldon Brown on chains and rings of neighbouring speeds", Handbook}
	byCapacity     = Source{"published worked examples of derailleur capacity (jitetan.com, defietssite.nl): rings' difference plus sprockets' difference", Handbook}
	byShiftNumbers = Source{"Wikibooks, gear-changing dimensions: cable pulled a click times the derailleur's ratio is the sprocket pitch", Handbook}
	byBoltPatterns = Source{"Sheldon Brown, bolt-hole patterns", Handbook}
	byISO492       = Source{"ISO 492 Normal class deviations, as a bearing maker's catalogue prints them, and a caliper's 0.05 mm", Catalogue}
	byAxleKind     = Source{"mayacycle.com on wheel fixings: a quick release goes through a hollow axle, a solid one has nuts on its thread", TradePage}
	byBrakeTrack   = Source{"brainybiker.com and cyclabo.com: a rim for discs only has no track that a rim brake could grip", Handbook}
	byTubeless     = Source{"engineerfix.com on tubeless tyres: tyre and rim made for it, tape, valve and sealant", TradePage}
	byTubelessTape = Source{"engineerfix.com and mbaction.com on tubeless tape: airtight, and 2 to 5 mm wider than the rim inside without reaching the bead's seat", TradePage}
	byValveLength  = Source{"mrmamil.com on valves: 40, 60 and 80 mm for rims under 30, of 30 to 50 and over 50 mm; how much a pump wants is common practice", TradePage}
	byCleats       = Source{"bikeshoesandpedals.com and bikeshoes.com: soles with holes for two, three or four bolts, and a cleat goes in the pedals of its own system only", TradePage}
	byFrontMounts  = Source{"blackartsbikes.blogspot.com, 2012, and hulkbike.com on front derailleurs: the frame decides mount and cable pull, and top and bottom swing sit at other heights", TradePage}

	byOriginalBrakeParts = Source{"a bike maker's manual: parts of a brake are replaced by original ones only, others brake too weakly, too hard or not at all", Catalogue}
	byDamagedBatteries   = Source{"ADR 2025, special provision 376: damaged or defective lithium batteries are packed and carried as such; a county's fire advice: stop charging and using it, store it outside away from other things, ask its maker", Standard}

	byISO4210 = Source{"the rating that the makers of frame and fork give; ISO 4210-2 has no figure and leaves it to them", Catalogue}
)
