using LiveStems.App.Demo.Mixing;
using LiveStems.App.Demo.Score;

namespace LiveStems.App.Demo.Instruments;

/// <summary>A kit and the room it stands in.</summary>
/// <param name="Kick">Bass drum.</param>
/// <param name="Snare">Snare drum.</param>
/// <param name="Toms">High, middle, low.</param>
/// <param name="Ring">The partial of the hats that rings.</param>
/// <param name="HatsDb">Level of the hats.</param>
/// <param name="SnareDb">Level of the snare.</param>
/// <param name="RoomDb">Level of the room.</param>
/// <param name="Room">The room.</param>
internal sealed record DrumKitSettings(
    KickDrum Kick,
    SnareDrum Snare,
    IReadOnlyList<TunedDrum> Toms,
    HatRing Ring,
    double HatsDb,
    double SnareDb,
    double RoomDb,
    RoomSettings Room);

/// <summary>Plays a drum part: each piece on a track of its own, then placed in the picture and in the room.</summary>
internal static class DrumKit
{
    private static readonly double[] TomPan = [-0.35, 0.1, 0.5];

    /// <param name="hits">Strokes in order of time.</param>
    /// <param name="groove">The drummer.</param>
    /// <param name="settings">The kit.</param>
    /// <param name="ringing">Loudness of the ringing of the hats at a moment in seconds.</param>
    /// <param name="frames">Length of the song.</param>
    /// <param name="sampleRate">Sample rate in Hz.</param>
    /// <param name="seed">The kit's own irregularities.</param>
    public static StereoTrack Render(
        IReadOnlyList<DrumHit> hits,
        Groove groove,
        DrumKitSettings settings,
        Func<double, double> ringing,
        int frames,
        int sampleRate,
        uint seed)
    {
        float[] kick = new float[frames];
        float[] snare = new float[frames];
        float[] hats = new float[frames];
        var close = new StereoTrack(frames, sampleRate);
        float[][] toms = [.. settings.Toms.Select(_ => new float[frames])];
        float[] crash = Cymbal.Stroke(new CymbalSettings(420, 4800, 260, 2.6, 18, 0.7), sampleRate, seed + 51);
        float[] ride = Cymbal.Stroke(new CymbalSettings(500, 4200, 160, 1.9, 4, 0.25), sampleRate, seed + 52);
        float[] crashes = new float[frames];
        float[] rides = new float[frames];
        var hat = new HiHat(sampleRate, seed + 53, settings.Ring);
        double[] hatTimes = [.. hits.Where(hit => hit.Piece == DrumPiece.Hats).Select(hit => groove.SecondsAt(hit.Beat)), double.MaxValue];
        int hatIndex = 0;
        for (int i = 0; i < hits.Count; i++)
        {
            DrumHit hit = hits[i];
            double seconds = groove.SecondsAt(hit.Beat);
            uint hitSeed = Noise.Mix(seed, i);
            double velocity = hit.Velocity * (1 + 0.05 * new Noise(hitSeed).Bell());
            switch (hit.Piece)
            {
                case DrumPiece.Kick:
                    settings.Kick.Hit(Strike.From(kick, seconds, sampleRate), sampleRate, velocity, hitSeed);
                    break;
                case DrumPiece.Snare when hit.Mark == 's':
                    SnareDrum.CrossStick(Strike.From(snare, seconds, sampleRate), sampleRate, velocity, hitSeed);
                    break;
                case DrumPiece.Snare:
                    settings.Snare.Hit(Strike.From(snare, seconds, sampleRate), sampleRate, velocity, hitSeed);
                    break;
                case DrumPiece.Hats:
                    hat.Hit(hats, seconds, velocity, hit.Mark, ringing(seconds), hatTimes[++hatIndex]);
                    break;
                case DrumPiece.Toms:
                    int tom = Math.Clamp(hit.Mark - '1', 0, toms.Length - 1);
                    settings.Toms[tom].Hit(Strike.From(toms[tom], seconds, sampleRate), sampleRate, velocity, hitSeed);
                    break;
                default:
                    (float[] stroke, float[] target, double level) = hit.Mark == 'c' ? (crash, crashes, 0.8) : (ride, rides, 0.35);
                    Span<float> place = Strike.From(target, seconds, sampleRate);
                    Samples.AddScaled(place, stroke.AsSpan(0, Math.Min(place.Length, stroke.Length)), (float)(level * velocity));
                    break;
            }
        }

        close.Add(kick, 1).Add(snare, settings.SnareDb, 0.05).Add(hats, settings.HatsDb, -0.4);
        close.Add(crashes, -9, -0.3).Add(rides, -8, 0.45);
        for (int i = 0; i < toms.Length; i++)
        {
            close.Add(toms[i], 0, TomPan[i]);
        }

        var send = new StereoTrack(frames, sampleRate);
        send.Add(close).Add(snare, settings.SnareDb + 3, 0.05);
        return close.Add(Room.Render(send, settings.Room), settings.RoomDb);
    }
}
