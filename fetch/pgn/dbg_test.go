package pgn
import ("testing";"os";"fmt";"strconv";"strings")
func TestDbg(t *testing.T){
 f:=os.Getenv("DBG"); if f==""{t.Skip()}
 b,_:=os.ReadFile(f)
 l:=strings.Split(string(b),"\n")[1]
 s,err:=strconv.Unquote(strings.TrimSuffix(strings.TrimPrefix(l,"[]byte("),")"))
 if err!=nil {t.Fatal(err)}
 if os.Getenv("APP")!="" { s+="\n\n"+lastGame }
 fmt.Println("-----"); fmt.Println(s); fmt.Println("-----")
 gs,r:=readAll(t,s,Options{Variations:true})
 for _,g:=range gs { fmt.Printf("game %d line %d tags %q moves %d term %q body %q\n",g.Index,g.Line,g.Tags,len(g.Moves),g.Termination,g.Text); for _,p:=range g.Problems {fmt.Println("  ",p, p.Kind)}}
 fmt.Println(r.Problems())
}
