using System.Text;
using LiveStems.Albums.Model;
using LiveStems.Analysis.Delivery;
using LiveStems.Files.Reading;
using LiveStems.Processing.Catalogue;
using LiveStems.Tests.Engine;
using LiveStems.Tests.Signals;
using Xunit;

namespace LiveStems.Tests.Analysis.Delivery;

/// <summary>A song that is delivered into a folder of its own.</summary>
public abstract class DeliveryTest : IDisposable
{
    private protected const int Frames = 4 * TestSong.SampleRate;

    private protected TestSong Source { get; } = new();
    private readonly string? cacheBefore = Environment.GetEnvironmentVariable("LIVESTEMS_CACHE");

    protected DeliveryTest()
    {
        Environment.SetEnvironmentVariable("LIVESTEMS_CACHE", Path.Combine(Source.Folder, "cache"));
        AddBand();
    }

    public void Dispose()
    {
        Environment.SetEnvironmentVariable("LIVESTEMS_CACHE", cacheBefore);
        Source.Dispose();
        GC.SuppressFinalize(this);
    }

    private protected static DeliveryOrder Order(string[] formats) =>
        new([0], [.. formats.Select(DeliveryFormat.Find)], [], false, false, new DateOnly(2026, 3, 1), "LiveStems");

    private protected DeliveryReport Deliver(DeliveryOrder order, string folder = "deliveries", IProgress<double>? progress = null, CancellationTokenSource? interruption = null, ProcessorCatalogue? catalogue = null)
    {
        Album album = new("Slack Water Letters", "The Kelp Ledger", new DeliveryTargets(null, -1), [Source.Song], []);
        return DeliveryRun.Deliver(album, Source.Folder, catalogue ?? BuiltInProcessors.Catalogue, order, Path.Combine(Source.Folder, folder), 2, progress, interruption?.Token ?? TestContext.Current.CancellationToken);
    }

    private protected DeliveryReport Run(Album album, DeliveryOrder order) =>
        DeliveryRun.Deliver(album, Source.Folder, BuiltInProcessors.Catalogue, order, Path.Combine(Source.Folder, "deliveries"), 2, null, TestContext.Current.CancellationToken);

    private protected static IEnumerable<string> SumsOf(DeliveryReport report, string title) => report.Files.Where(file => file.Song == title).Select(file => file.Sha256);

    private protected string Refusal(Album album, DeliveryOrder order) => Assert.Throws<DeliveryException>(() =>
        DeliveryRun.Deliver(album, Source.Folder, BuiltInProcessors.Catalogue, order, Path.Combine(Source.Folder, "deliveries"), 2, null, TestContext.Current.CancellationToken)).Message;

    private protected static string Named(DeliveryReport report, DeliveredKind kind, string? variant = null) =>
        Path.Combine(report.Folder, report.Files.First(file => file.Kind == kind && (variant is null || file.Variant == variant)).Name);

    private protected static IEnumerable<(string, string)> Sums(DeliveryReport report) => report.Files.Select(file => (file.Name, file.Sha256)).Order();

    private protected static string Text(ReadOnlySpan<byte> bytes) => Encoding.ASCII.GetString(bytes).TrimEnd('\0');

    private protected static (float[] Left, float[] Right) Read(string path)
    {
        using IAudioReader reader = AudioFile.Open(path);
        float[] left = new float[reader.Info.Frames];
        float[] right = new float[reader.Info.Frames];
        for (int done = 0; done < left.Length;)
        {
            done += reader.Read(left.AsSpan(done), right.AsSpan(done));
        }

        return (left, right);
    }

    private void AddBand()
    {
        Source.AddStem("band", Bursts(1), Bursts(2), stem => stem with
        {
            Role = StemRole.Drums,
            Chain = TestSong.Chain(TestSong.Slot("compressor", ("thresholdDb", -30))),
        });
        Source.AddStem("voice", Bursts(3), Bursts(4), stem => stem with { Role = StemRole.LeadVocal });
        Source.Song = Source.Song with
        {
            Bus = TestSong.Chain(TestSong.Slot("compressor", ("thresholdDb", -20)), TestSong.Slot("limiter", ("inputGainDb", 6), ("ceilingDbtp", -1))),
        };
    }

    private static float[] Bursts(int seed)
    {
        float[] sound = Noise.White(Frames, seed, 0.3f);
        for (int i = 0; i < sound.Length; i++)
        {
            sound[i] *= MathF.Exp(-((i + 3000 * seed) % 12_000) / 3000f);
        }

        return sound;
    }

    private protected sealed class Aside(Action act) : IProgress<double>
    {
        public void Report(double value)
        {
            if (value < 1)
            {
                act();
            }
        }
    }

    private protected sealed class Stop(double share, CancellationTokenSource interruption) : IProgress<double>
    {
        public void Report(double value)
        {
            if (value >= share)
            {
                interruption.Cancel();
            }
        }
    }
}
