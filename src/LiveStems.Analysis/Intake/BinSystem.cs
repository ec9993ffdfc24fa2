using System.Numerics;

namespace LiveStems.Analysis.Intake;

/// <summary>A Hermitian matrix of one bin and its inverse, by Cholesky's factors.</summary>
internal sealed class BinSystem(int most)
{
    private readonly Complex[,] factor = new Complex[most, most];

    /// <summary>The matrix, its lower triangle.</summary>
    public Complex[,] Matrix { get; } = new Complex[most, most];

    /// <summary>The whole inverse.</summary>
    public Complex[,] Inverse { get; } = new Complex[most, most];

    /// <summary>Inverts the first rows and columns.</summary>
    public void Invert(int count)
    {
        for (int j = 0; j < count; j++)
        {
            double diagonal = Matrix[j, j].Real;
            for (int k = 0; k < j; k++)
            {
                diagonal -= Square(factor[j, k]);
            }

            double root = Math.Sqrt(Math.Max(diagonal, 1e-12));
            factor[j, j] = root;
            for (int i = j + 1; i < count; i++)
            {
                Complex sum = Matrix[i, j];
                for (int k = 0; k < j; k++)
                {
                    sum -= factor[i, k] * Complex.Conjugate(factor[j, k]);
                }

                factor[i, j] = sum / root;
            }
        }

        InvertFactor(count);
        for (int i = 0; i < count; i++)
        {
            for (int j = 0; j <= i; j++)
            {
                Complex sum = Complex.Zero;
                for (int k = i; k < count; k++)
                {
                    sum += Complex.Conjugate(factor[k, i]) * factor[k, j];
                }

                Inverse[i, j] = sum;
                Inverse[j, i] = Complex.Conjugate(sum);
            }
        }
    }

    /// <summary>The inverse times a vector.</summary>
    public Complex[] Times(Complex[] vector, int count)
    {
        Complex[] product = new Complex[count];
        for (int i = 0; i < count; i++)
        {
            for (int j = 0; j < count; j++)
            {
                product[i] += Inverse[i, j] * vector[j];
            }
        }

        return product;
    }

    private void InvertFactor(int count)
    {
        for (int j = 0; j < count; j++)
        {
            factor[j, j] = 1 / factor[j, j];
            for (int i = j + 1; i < count; i++)
            {
                Complex sum = Complex.Zero;
                for (int k = j; k < i; k++)
                {
                    sum += factor[i, k] * factor[k, j];
                }

                factor[i, j] = -sum / factor[i, i];
            }
        }
    }

    private static double Square(Complex value) => value.Real * value.Real + value.Imaginary * value.Imaginary;
}
