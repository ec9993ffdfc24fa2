namespace LiveStems.App.Demo.Score;

/// <summary>
/// Hits on an even grid over one bar, written as text: 'X' accent, 'x' plain, '-' soft, 'g' ghost, any other letter or
/// digit as the instrument takes it, '.' nothing; spaces only for the eye.
/// </summary>
internal static class StepPattern
{
    public static IEnumerable<(double Beat, char Mark)> Hits(string pattern, double barBeat)
    {
        string steps = pattern.Replace(" ", "", StringComparison.Ordinal);
        for (int i = 0; i < steps.Length; i++)
        {
            if (steps[i] != '.')
            {
                yield return (barBeat + (double)SongForm.BeatsPerBar * i / steps.Length, steps[i]);
            }
        }
    }

    public static double Velocity(char mark) => mark switch
    {
        'X' => 1.0,
        'x' => 0.8,
        '-' => 0.55,
        'g' => 0.3,
        _ => 0.8,
    };
}
