using LiveStems.App.Demo.Mixing;

namespace LiveStems.App.Demo.Score;

/// <summary>
/// How a player places beats in time: swung second halves, a steady lean ahead or behind, and a small scatter that is
/// the same on every run because it follows from the beat alone.
/// </summary>
/// <param name="form">The song.</param>
/// <param name="swingUnit">Beats of the pair that is swung: 1 for eighths, 0.5 for sixteenths.</param>
/// <param name="swing">Place of the second of a pair, 0.5 is straight.</param>
/// <param name="leanMs">Steady lateness; below 0 is ahead of the beat.</param>
/// <param name="scatterMs">Standard deviation of the scatter.</param>
/// <param name="seed">The player.</param>
internal sealed class Groove(SongForm form, double swingUnit, double swing, double leanMs, double scatterMs, uint seed)
{
    public SongForm Form { get; } = form;

    public double SecondsAt(double beat)
    {
        var noise = new Noise(Noise.Mix(seed, (long)Math.Round(beat * 96)));
        return Form.SecondsAt(Swung(beat)) + (leanMs + scatterMs * noise.Bell()) / 1000;
    }

    public PlayedNote Play(in ScoreNote note)
    {
        var noise = new Noise(Noise.Mix(seed + 7, (long)Math.Round(note.Beat * 96) + (long)note.Key));
        double start = SecondsAt(note.Beat);
        double end = Form.SecondsAt(Swung(note.Beat + note.Beats));
        double velocity = Math.Clamp(note.Velocity * (1 + 0.06 * noise.Bell()), 0.02, 1);
        return new PlayedNote(start, Math.Max(0.02, end - start), note.Key, velocity);
    }

    private double Swung(double beat)
    {
        double pair = Math.Floor(beat / swingUnit + 1e-9);
        double inside = beat / swingUnit - pair;
        double warped = inside < 0.5 ? inside * 2 * swing : swing + (inside - 0.5) * 2 * (1 - swing);
        return (pair + warped) * swingUnit;
    }
}
