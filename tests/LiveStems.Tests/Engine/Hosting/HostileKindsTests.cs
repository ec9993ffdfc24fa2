using LiveStems.Engine.Hosting;
using LiveStems.Engine.Offline;
using LiveStems.Engine.Planning;
using LiveStems.Engine.Streaming;
using LiveStems.Processing.Catalogue;
using LiveStems.Tests.Dsp.Dynamics;
using LiveStems.Tests.Engine.Live;
using LiveStems.Tests.Nets;
using LiveStems.Tests.Signals;
using Xunit;

namespace LiveStems.Tests.Engine.Hosting;

/// <summary>
/// The table of bad processors: whatever one does, on a stem that is muted and so reaches the song bus as nothing, the other
/// stem is the same bits as without it, and the user is told. Inside the program and in a process of its own, rendered and played.
/// </summary>
public sealed class HostileKindsTests(HostileKindsTests.Processes processes) : IClassFixture<HostileKindsTests.Processes>
{
    private const int Frames = 36_000;
    private const int Block = 256;

    private static readonly TimeSpan LongestWait = TimeSpan.FromMilliseconds(200);

    // A fade in, and the block in which it ends.
    private const int FadeFrames = 480 + Block;

    private const string Nothing = "";

    // On a machine under load starting a thread may take longer than the watch waits.
    private const string StartedTooSlowly = "deadly-threads: deadly-threads did not come to an end and is passed by";

    /// <summary>What it is, and what is told while it plays or is rendered.</summary>
    public static TheoryData<string, string, string> Running => new()
    {
        { "Hostile", "hostile-throws", " has failed (it threw an exception) and is passed by" },
        { "Hostile", "hostile-nan", " has failed (it delivered what is no number) and is passed by" },
        { "Hostile", "hostile-loud", " was louder than +24 dBFS and is passed by" },
        { "Deadly", "deadly-length", " has failed (it wrote outside its block) and is passed by" },

        // These are told before they run: by vetting, and by what they ask for.
        { "Hostile", "hostile-allocates", Nothing },
        { "Hostile", "hostile-latency", Nothing },
        { "Hostile", "hostile-blocks", Nothing },
        { "Deadly", "deadly-threads", Nothing },
    };

    [Theory]
    [MemberData(nameof(Running))]
    public void RenderedBesideOneInsideTheProgram(string assembly, string id, string told) =>
        AssertRender(OutsideFiles.Catalogue(OutsideFiles.Maker(assembly, id)), id, told);

    [Theory]
    [MemberData(nameof(Running))]
    public void RenderedBesideOneInItsOwnProcess(string assembly, string id, string told) =>
        AssertRender(OutsideFiles.Catalogue([.. processes.Of(assembly)]), id, told);

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void PlayedBesideAllOfThem(bool isApart)
    {
        string[] assemblies = ["Hostile", "Deadly"];
        ProcessorCatalogue catalogue = OutsideFiles.Catalogue([.. assemblies.SelectMany(each => isApart ? processes.Of(each) : OutsideFiles.Makers(each))]);
        string[] ids = [.. Running.Select(row => row.Data.Item2)];
        (float[] without, _) = Play(catalogue, []);
        (float[] with, string[] told) = Play(catalogue, ids);

        // From the fade at its start on the other stem is one stretch to the end.
        (int first, int frames, _) = Assert.Single(HeardStretches.Of(with, without));
        Assert.InRange(first, 0, FadeFrames);
        Assert.Equal(Math.Min(with.Length, without.Length) - first, frames);
        Assert.Equal(
            Running.Where(row => row.Data.Item3.Length > 0).Select(row => $"{row.Data.Item2}: {row.Data.Item2}{row.Data.Item3}").Order(),
            told.Where(line => line.Contains("passed by", StringComparison.Ordinal) && line != StartedTooSlowly).Order());
    }

    [Fact]
    public void PlayedBesideOneThatHangsInItsOwnProcess()
    {
        ProcessorCatalogue catalogue = OutsideFiles.Catalogue([.. processes.Of("Endless")]);
        (float[] without, _) = Play(catalogue, []);
        (float[] with, string[] told) = Play(catalogue, ["endless-later"], seconds: 1.6);
        (int first, int frames, _) = Assert.Single(HeardStretches.Of(with, without));
        Assert.InRange(first, 0, FadeFrames);
        Assert.Equal(Math.Min(with.Length, without.Length) - first, frames);
        Assert.Contains("endless-later: the process of endless-later has ended (it did not come to an end); the sound goes on without it, it is started anew", told);
    }

    [Fact]
    public void PlayedBesideOneThatHangsInsideTheProgram()
    {
        ProcessorCatalogue catalogue = OutsideFiles.Catalogue(OutsideFiles.Maker("Endless", "endless-later"));
        (float[] without, _) = Play(catalogue, [], seconds: 1.6);
        (float[] with, string[] told) = Play(catalogue, ["endless-later"], seconds: 1.6);

        // The hole until the hang is noticed has a slope on both sides; what was on its way then is heard after it, to the end.
        IReadOnlyList<(int First, int Frames, int Place)> stretches = HeardStretches.Of(with, without);
        Assert.True(stretches.Count <= 2, string.Join(", ", stretches));
        Assert.Equal(with.Length, stretches[^1].First + stretches[^1].Frames);
        Assert.InRange(stretches[^1].Place - (stretches[0].Place + stretches[0].Frames), -stretches[0].Frames, FadeFrames);
        Assert.True(stretches.Sum(stretch => stretch.Frames) > with.Length - 4 * FadeFrames, string.Join(", ", stretches));
        Assert.Contains("endless-later: endless-later did not come to an end and is passed by", told);
    }

    [Theory]
    [InlineData(false, "hostile-hangs does not come to an end; nothing was rendered: bypass it, or 'livestems processors --refuse hostile-hangs', and begin again")]
    [InlineData(true, "hostile-hangs: its process has ended (it did not come to an end); without it the sound would be another: take it out, or refuse it, and begin again")]
    public void RenderWithOneThatHangsEndsWithOneLineAndGivesNoFile(bool isApart, string told)
    {
        TimeSpan patience = TimeSpan.FromSeconds(1);
        ProcessorCatalogue catalogue = OutsideFiles.Catalogue([.. isApart ? OutsideFiles.MakersApart("Hostile", patience) : OutsideFiles.Makers("Hostile")]);
        using TestSong song = Song("hostile-hangs");
        Assert.Equal(told, Assert.Throws<HostingException>(() => song.Render(512, catalogue: catalogue, options: new PlanOptions(512, 16_384) { Patience = patience })).Message);
    }

    [Theory]
    [InlineData("newer.dll", false, "was built for LiveStems.Processing 1.7.0 and this program has 1.0.0; use a newer LiveStems, or a build for this one")]
    [InlineData("newer.dll", true, "was built for LiveStems.Processing 1.7.0 and this program has 1.0.0; use a newer LiveStems, or a build for this one")]
    [InlineData("DiesAtOnce.dll", false, "Outside.DiesAtOnce.DiesAtOnceProcessor cannot be made: InvalidOperationException, the tide is out")]
    [InlineData("DiesAtOnce.dll", true, "DiesAtOnce.dll cannot be loaded: Outside.DiesAtOnce.DiesAtOnceProcessor cannot be made: InvalidOperationException, the tide is out")]
    public void RenderedBesideOneThatCannotBeLoaded(string file, bool isApart, string told)
    {
        using OutsideFiles files = new();
        bool isNewer = file == "newer.dll";
        files.Put(isNewer ? "Tilt" : "DiesAtOnce", file, bytes => isNewer ? OutsideFiles.ForContract(bytes, new Version(1, 7)) : bytes);
        ProcessorHost host = files.Open();
        host.Decide(OutsideFiles.Decision(host.Assemblies[0].Facts, true, "outside-x") with { IsIsolated = isApart });
        ProcessorCatalogue catalogue = files.Open().Catalogue;
        Assert.Equal($"{file}: {told}", catalogue.Absent["outside-x"]);
        using TestSong song = Song("outside-x");
        PlanOptions options = new(512, 16_384);
        using SongSources sources = SongSources.Open(song.Song, song.Folder, options);
        Assert.Equal(
            [$"outside-x: the processor 'outside-x' is not here ({file}: {told}); the sound passes it by, its settings stay"],
            SongCompiler.Compile(song.Song, sources, catalogue, options).Remarks);
        AssertRender(catalogue, "outside-x", Nothing);
    }

    private static void AssertRender(ProcessorCatalogue catalogue, string id, string told)
    {
        using TestSong song = Song(id);
        PlanOptions options = new(512, 16_384);
        using SongSources sources = SongSources.Open(song.Song, song.Folder, options);
        SongPlan plan = SongCompiler.Compile(song.Song, sources, catalogue, options);
        TestSong.Recording with = new();
        OfflineRenderer.Render(plan, with, new RenderOptions(1, 512), null, CancellationToken.None);
        Assert.Equal(told.Length == 0 ? [] : [$"{id}: {id}{told}"], plan.Failures());
        plan.Release();
        using TestSong plain = Song();
        (float[] left, float[] right) = plain.Render(512, catalogue: catalogue);
        int frames = Math.Min(left.Length, with.Left.Count);
        Assert.True(frames >= Frames);
        SameBits.Assert(left[..frames], [.. with.Left.Take(frames)], id);
        SameBits.Assert(right[..frames], [.. with.Right.Take(frames)], id);
    }

    // What is heard without its silence, and what is told.
    private static (float[] Heard, string[] Told) Play(ProcessorCatalogue catalogue, string[] ids, double seconds = 0.9)
    {
        using PlayedSong played = new(Block);
        AddStems(played.Files, 3 * PlayedSong.SampleRate, ids);

        // A clock that stands still: on a machine under load nothing is taken for too slow.
        played.Open(catalogue, new HandClock());
        played.Player.Play();
        for (int heard = 0; heard < seconds * PlayedSong.SampleRate;)
        {
            Thread.Sleep(4);

            // On a machine under load the rendering thread gets the time that the clock of a device would not give it.
            SpinWait.SpinUntil(() => played.Player.CanGive(Block), LongestWait);
            int before = played.Device.Left.Count;
            played.Device.Run(Block);
            heard += played.Device.Left.Skip(before).Count(sample => sample != 0);
            played.Troubles.AddRange(played.Player.Update());
        }

        return (HeardStretches.Sounding(played.Device.Left), [.. played.Troubles]);
    }

    private static TestSong Song(params string[] ids)
    {
        TestSong song = new();
        AddStems(song, Frames, ids);
        return song;
    }

    // A compressor keeps something of the past: it would be another for a while if its plan began anew.
    private static void AddStems(TestSong song, int frames, string[] ids)
    {
        song.AddStem("a", Noise.White(frames, 5, 0.1f), Noise.White(frames, 6, 0.1f), stem => stem with
        {
            Chain = TestSong.Chain(TestSong.Slot("compressor", ("thresholdDb", -30))),
        });
        float[] tone = TestSignals.Sine(frames, 440, TestSong.SampleRate, 0.1);
        foreach (string id in ids)
        {
            song.AddStem(id, tone, tone, stem => stem with { Placement = stem.Placement with { Muted = true }, Chain = TestSong.Chain(TestSong.Slot(id)) });
        }
    }

    /// <summary>One process for each assembly, for all tests.</summary>
    public sealed class Processes
    {
        private readonly Dictionary<string, IReadOnlyList<ProcessorMaker>> makers = [];

        internal IReadOnlyList<ProcessorMaker> Of(string assembly) =>
            makers.TryGetValue(assembly, out IReadOnlyList<ProcessorMaker>? known) ? known : makers[assembly] = OutsideFiles.MakersApart(assembly);
    }
}
