// Symmetric systems of a few equations, by Cholesky's factors (Golub and Van Loan, Matrix Computations, 4.2).
const LOOSE = 1e-9; // what is left of a pivot, as a share of it, under which its unknown counts as held by nothing

// The lower factor of a positive definite matrix; null where it is none.
function factor(matrix) {
  const n = matrix.length;
  const low = matrix.map((row) => Float64Array.from(row));
  for (let i = 0; i < n; i += 1) {
    for (let j = 0; j <= i; j += 1) {
      let left = matrix[i][j];
      for (let k = 0; k < j; k += 1) left -= low[i][k] * low[j][k];
      if (i > j) low[i][j] = left / low[j][j];
      else if (left > LOOSE * matrix[i][i]) low[i][i] = Math.sqrt(left);
      else return null;
    }
  }
  return low;
}

function through(low, right) {
  const x = Float64Array.from(right);
  const n = x.length;
  for (let i = 0; i < n; i += 1) {
    for (let k = 0; k < i; k += 1) x[i] -= low[i][k] * x[k];
    x[i] /= low[i][i];
  }
  for (let i = n - 1; i >= 0; i -= 1) {
    for (let k = i + 1; k < n; k += 1) x[i] -= low[k][i] * x[k];
    x[i] /= low[i][i];
  }
  return x;
}

// x of matrix x = right; null where something is held by nothing.
export function solve(matrix, right) {
  const low = factor(matrix);
  return low && through(low, right);
}

// The inverse, column by column; null likewise.
export function inverse(matrix) {
  const low = factor(matrix);
  return low && matrix.map((_, k) => through(low, matrix.map((__, i) => (i === k ? 1 : 0))));
}
