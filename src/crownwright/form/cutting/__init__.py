"""Which boards to buy and what to saw from each, proved cheapest.

The idea in one paragraph: what is paid depends only on the *basket* (how many boards of each length), never on how they are
sawn. So baskets are tried from the cheapest up, and the first one that the pieces fit on is the best there is. A basket that
cannot work is turned away by a *cover*: give each size any worth; no board can carry more worth than its best filling, so a
basket must carry all the worth there is to cut. Linear programming finds the worths that turn most away, and an exact knapsack in
whole numbers makes each cover true to the last unit. The same covers then sieve the few ways of sawing a board that a basket
with so little to spare could still use, and an integer program over those settles whether the pieces fit.
"""
