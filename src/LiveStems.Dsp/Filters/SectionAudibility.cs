namespace LiveStems.Dsp.Filters;

/// <summary>Tells the sections of a filter that matter from those that change next to nothing.</summary>
/// <remarks>
/// Most of what the second and third section of a factor do, they do near Nyquist: for a filter far below it they are as
/// good as not there, and half to two thirds of the work can be saved.
/// </remarks>
internal static class SectionAudibility
{
    /// <summary>
    /// The most that the changes of all sections left out may add up to: 0.05 dB, which with the error of the design stays
    /// within 0.1 dB.
    /// </summary>
    public static readonly double InaudibleChange = 1 - Math.Pow(10, -0.05 / 20);

    // Where the difference is looked at, in tan(ω/2): from 0.006 π to 0.9994 π. Lower down a section does what it does at 0,
    // higher up what it does at Nyquist; a narrow one does most at its own frequency, t = G.
    private static readonly double[] Probes = Spread(48);

    /// <summary>The largest |H − 1| of a section at any frequency, or one above <see cref="InaudibleChange"/>.</summary>
    public static double LargestChange(in StateVariableCoefficients section)
    {
        double largest = Math.Max(Math.Abs(section.Direct + section.Low - 1), Math.Abs(section.Direct - 1));
        largest = Math.Max(largest, Change(section, section.G));
        for (int i = 0; i < Probes.Length && largest <= InaudibleChange; i++)
        {
            largest = Math.Max(largest, Change(section, Probes[i]));
        }

        return largest;
    }

    private static double[] Spread(int count)
    {
        double[] places = new double[count];
        for (int i = 0; i < count; i++)
        {
            places[i] = Math.Pow(10, -2 + 5 * i / (count - 1.0));
        }

        return places;
    }

    /// <summary>Moves the sections of a filter that matter to the front and returns how many there are.</summary>
    public static int Keep(Span<StateVariableCoefficients> sections)
    {
        double left = InaudibleChange;
        int kept = 0;
        for (int i = 0; i < sections.Length; i++)
        {
            double change = LargestChange(sections[i]);
            if (change > left)
            {
                sections[kept++] = sections[i];
            }
            else
            {
                left -= change;
            }
        }

        return kept;
    }

    // |H − 1| at s = jt: H − 1 = ((Direct − 1) D + Band G s + Low G²) / D, D = s² + K G s + G².
    private static double Change(in StateVariableCoefficients section, double t)
    {
        double square = section.G * section.G;
        double real = square - t * t;
        double imaginary = section.K * section.G * t;
        double change = (section.Direct - 1) * real + section.Low * square;
        double turned = (section.Direct - 1) * imaginary + section.Band * section.G * t;
        return Math.Sqrt((change * change + turned * turned) / (real * real + imaginary * imaginary));
    }
}
