package orderplan
import ("testing";"context")
func BenchmarkProf(b *testing.B){
	for range b.N { for seed:=uint64(1);seed<=4;seed++ { Solve(context.Background(), generate(full,80,15,seed)) } }
}
