(function(){
var said=document.getElementById("said");
function value(body,n){
var text=body.rows[0].cells[n].textContent.trim();
var found=text.replace(/\u2212/g,"-").match(/^[+-]?[0-9]*\.?[0-9]+(e[+-]?[0-9]+)?/i);
return found?parseFloat(found[0]):text.toLowerCase();
}
function before(a,b){
if(typeof a===typeof b)return a<b?-1:a>b?1:0;
return typeof a==="number"?-1:1;
}
document.querySelectorAll("table.sortable").forEach(function(table){
var heads=[].slice.call(table.tHead.rows[0].cells);
heads.forEach(function(head,n){
var button=head.querySelector("button");
if(!button)return;
button.addEventListener("click",function(){
var up=head.getAttribute("aria-sort")!=="ascending";
heads.forEach(function(one){one.removeAttribute("aria-sort");});
head.setAttribute("aria-sort",up?"ascending":"descending");
[].slice.call(table.tBodies).map(function(body,i){return [value(body,n),i,body];})
.sort(function(a,b){return (up?1:-1)*before(a[0],b[0])||a[1]-b[1];})
.forEach(function(one){table.appendChild(one[2]);});
said.textContent="sorted by "+button.textContent+(up?", ascending":", descending");
});});});
})();
