"""What is cut from which sheet of metal: rectangles out of rectangles, every cut from edge to edge, proved or bounded.

The idea in one paragraph: a *layout* of one sheet is a set of pieces that guillotine cuts can give. Layouts are made by the
thousand, greedily and by chance, guided by what each piece is worth in the linear program over the layouts known so far; then
a whole-number program picks the cheapest set of layouts that holds every piece. What no choice of layouts can beat is told beside
it: by functions that stretch sizes without letting two pieces fit that did not fit before, and by the linear program's own
worths, made true by an exact knapsack over all guillotine layouts (Gilmore and Gomory 1966, Farley 1990).
"""
