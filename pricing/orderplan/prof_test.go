package orderplan
import ("testing";"context";"fmt")
func BenchmarkProf(b *testing.B){
	for _,k:=range []kind{fix,thr,full} { for _,sz:=range [][2]int{{40,10},{80,15}} {
	n,ln:=0,0; t:=cpuSeconds(); for seed:=uint64(1);seed<=6;seed++ { p:=generate(k,sz[0],sz[1],seed);  pl,_:=Solve(context.Background(),p); n+=pl.Work.ModeNodes; ln+=pl.Work.LineNodes; fmt.Print(pl.Work.ModeNodes,"/",pl.Work.LineNodes," ") }; fmt.Println(k,sz,n,ln,cpuSeconds()-t) }}
}
