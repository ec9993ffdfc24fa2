namespace LiveStems.App.Demo.Instruments;

/// <summary>
/// Derivative of the air flow between the vocal folds over one period, after the trigonometric pulse of A. Rosenberg,
/// "Effect of glottal pulse shape on the quality of natural vowels", JASA 49, 1971, shape C, turned into harmonics.
/// </summary>
internal static class GlottalWaves
{
    private const int Points = 4096;

    /// <summary>Folds that close late and gently.</summary>
    public static WaveTable Soft { get; } = Build(0.46, 0.30);

    /// <summary>Folds that close early and at once.</summary>
    public static WaveTable Pressed { get; } = Build(0.34, 0.13);

    private static WaveTable Build(double opening, double closing)
    {
        double[] flow = new double[Points];
        for (int i = 0; i < Points; i++)
        {
            double t = (double)i / Points;
            flow[i] = t < opening ? 0.5 * (1 - Math.Cos(Math.PI * t / opening))
                : t < opening + closing ? Math.Cos(Math.PI / 2 * (t - opening) / closing)
                : 0;
        }

        return new WaveTable(number => Harmonic(flow, number), 160);
    }

    // The derivative multiplies a harmonic by its number; a gentle return of the folds rounds the highest ones off.
    private static (double Cosine, double Sine) Harmonic(double[] flow, int number)
    {
        double cosine = 0;
        double sine = 0;
        for (int i = 0; i < Points; i++)
        {
            (double s, double c) = Math.SinCos(2 * Math.PI * ((long)number * i % Points) / Points);
            cosine += flow[i] * c;
            sine += flow[i] * s;
        }

        double scale = 2.0 * number / Points / (1 + Math.Pow(number / 60.0, 2));
        return (sine * scale, -cosine * scale);
    }
}
