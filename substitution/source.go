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
	byISO4210      = Source{"the rating that the makers of frame and fork give; ISO 4210-2 has no figure and leaves it to them", Catalogue}
)
