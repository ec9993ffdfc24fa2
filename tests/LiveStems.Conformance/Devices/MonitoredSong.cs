using System.Collections.Immutable;
using LiveStems.Albums.Model;
using LiveStems.Engine.Monitor;
using LiveStems.Engine.Offline;
using LiveStems.Engine.Planning;
using LiveStems.Engine.Streaming;
using LiveStems.Files.Writing;
using LiveStems.Processing.Catalogue;

namespace LiveStems.Conformance.Devices;

/// <summary>A song of two stems with chains, in a folder that goes with it; and what the monitor makes of it, rendered offline.</summary>
/// <remarks>
/// Both stems begin with silence, so that the 10 ms in which playing opens fall on nothing, and then at once with noise, so that
/// the first frame is found again.
/// </remarks>
internal sealed class MonitoredSong : IDisposable
{
    private const int SampleRate = SoundServer.SampleRate;
    private const int SilentFrames = SampleRate / 2;
    private const int NoiseFrames = 2 * SampleRate;

    public MonitoredSong()
    {
        Stem low = Write("low", 0, Slot("equaliser", ("band2.on", 1), ("band2.gainDb", 5), ("band2.frequencyHz", 200)));
        Stem high = Write("high", NoiseFrames, Slot("compressor", ("thresholdDb", -30), ("ratio", 4)), Slot("equaliser", ("band2.on", 1), ("band2.gainDb", -3)));
        Song = new Song("Low Tide", null, null, null, [low, high], Chain(Slot("limiter", ("inputGainDb", 3))), []);
    }

    public string Folder { get; } = Directory.CreateTempSubdirectory("livestems-monitored-").FullName;

    public Song Song { get; }

    /// <summary>The band from 250 Hz to 4 kHz at 24 dB/oct, sides exchanged, 3 dB down, held at −14 dBFS.</summary>
    public static MonitorSettings Settings { get; } = MonitorSettings.AtStart with
    {
        IsDimmed = false,
        LevelDb = -3,
        IsSwapped = true,
        BandListen = true,
        BandCentreHz = 1000,
        BandWidthOctaves = 4,
        BandSlopeDbPerOctave = 24,
        SafetyCeilingDbfs = -14,
    };

    /// <summary>What the monitor gives to the device when the song starts after so many frames of silence, to the end of the stems.</summary>
    public (float[] Left, float[] Right) Heard(int silentFrames)
    {
        using SongSources sources = SongSources.Open(Song, Folder, PlanOptions.Offline);
        SongPlan plan = SongCompiler.Compile(Song, sources, BuiltInProcessors.Catalogue, PlanOptions.Offline);
        Sink master = new();
        OfflineRenderer.Render(plan, master, new RenderOptions(1, 1024), null, CancellationToken.None);
        float[] left = [.. new float[silentFrames], .. master.Left.Take(SilentFrames + NoiseFrames)];
        float[] right = [.. new float[silentFrames], .. master.Right.Take(SilentFrames + NoiseFrames)];
        MonitorPath monitor = new(SampleRate);
        monitor.Post(Settings);
        monitor.Process(left, right);
        return (left, right);
    }

    public void Dispose() => Directory.Delete(Folder, recursive: true);

    private static Chain Chain(params ChainSlot[] slots) => new(false, [.. slots]);

    private static ChainSlot Slot(string processor, params (string Id, double Value)[] parameters) => new(
        processor, processor, 1, false, 100, StereoScope.Stereo, null,
        parameters.ToImmutableSortedDictionary(pair => pair.Id, pair => pair.Value), string.Empty);

    private Stem Write(string name, int firstSample, params ChainSlot[] slots)
    {
        float[] left = new float[SilentFrames + NoiseFrames];
        float[] right = new float[SilentFrames + NoiseFrames];
        for (int frame = 0; frame < NoiseFrames; frame++)
        {
            left[SilentFrames + frame] = NoiseRenderer.Sample(firstSample + frame, 0);
            right[SilentFrames + frame] = NoiseRenderer.Sample(firstSample + frame, 1);
        }

        using (WavWriter writer = new(Path.Combine(Folder, name + ".wav"), new WavFormat(SampleRate, 32, IsFloat: true)))
        {
            writer.Write(left, right);
            writer.Complete();
        }

        return new Stem(name, name + ".wav", string.Empty, StemRole.Other, Placement.AsDelivered, Chain(slots), [], []);
    }

    private sealed class Sink : IRenderSink
    {
        public List<float> Left { get; } = [];

        public List<float> Right { get; } = [];

        public void Write(ReadOnlySpan<float> left, ReadOnlySpan<float> right)
        {
            Left.AddRange(left);
            Right.AddRange(right);
        }
    }
}
