using LiveStems.Albums.Editing;
using LiveStems.Albums.Model;
using LiveStems.Processing.Catalogue;

namespace LiveStems.App.Demo;

/// <summary>What the demo's engineer has done to each stem, written as it would be typed.</summary>
internal static class DemoCorrections
{
    private const string Lamps = "Lamps Along the Mole";
    private const string Rope = "Rope and Rain";
    private const string Dredger = "The Night Dredger";

    private const string ThinLowNotes =
        "band2.on=on; band2.shape=bell; band2.frequencyHz=250 Hz; band2.gainDb=0 dB; band2.q=1.4; band2.dynamic=on; band2.thresholdDb=-34 dB; band2.rangeDb=-5 dB; " +
        "band2.ratio=4:1; band2.keyBand=set; band2.keyFrequencyHz=190 Hz; band2.keyWidthOctaves=0.7 oct";

    private const string CalmSibilants = "frequencyHz=5.5 kHz; thresholdDb=-16 dB; rangeDb=8 dB";

    private static readonly Correction[] All =
    [
        new($"{Lamps}/Drums", "equaliser", "cuts what lies below the bass drum", "band1.frequencyHz=28 Hz"),
        new($"{Lamps}/Drums", "resonance-suppressor", "takes the ring out of the half-open hats, while it rings",
            "lowHz=6.5 kHz; highHz=9.5 kHz; depthPercent=80 %; selectivityDb=6 dB; attackMs=30 ms"),
        new($"{Lamps}/Bass", "equaliser", "softens the pick clicks",
            "band1.frequencyHz=32 Hz; band2.on=on; band2.shape=bell; band2.frequencyHz=3.9 kHz; band2.gainDb=-6 dB; band2.q=1.2; band3.on=on; band3.shape=low-pass; band3.frequencyHz=9 kHz"),
        new($"{Lamps}/Bass", "compressor", "evens out the notes",
            "thresholdDb=-24 dB; ratio=2.5:1; attackMs=25 ms; releaseMs=180 ms; autoMakeUp=on"),
        new($"{Lamps}/Guitars driven", "equaliser", "takes the glare down, keeps the bite",
            "band1.frequencyHz=80 Hz; band2.on=on; band2.shape=bell; band2.frequencyHz=3.3 kHz; band2.gainDb=-4 dB; band2.q=1.1"),
        new($"{Lamps}/Electric piano", "equaliser", "cuts hiss above the instrument",
            "band1.frequencyHz=35 Hz; band2.on=on; band2.shape=low-pass; band2.frequencyHz=15 kHz; band2.slopeDbPerOctave=24 dB/oct"),
        new($"{Lamps}/Pad", "equaliser", "cuts needless movement below the lowest note",
            "band1.frequencyHz=60 Hz; band1.slopeDbPerOctave=24 dB/oct"),
        new($"{Lamps}/Lead voice", "equaliser", "cuts stand rumble; thins the low notes and lets the high ones pass",
            "band1.frequencyHz=90 Hz; band1.slopeDbPerOctave=24 dB/oct; " + ThinLowNotes),
        new($"{Lamps}/Lead voice", "de-esser", "calms the sibilants, quiet lines and loud ones alike", CalmSibilants),
        new($"{Lamps}/Lead voice", "compressor", "holds the voice in front",
            "thresholdDb=-26 dB; ratio=2:1; kneeDb=10 dB; attackMs=8 ms; releaseMs=120 ms; autoRelease=on; keyHighPass=on; keyHighPassHz=120 Hz; autoMakeUp=on"),

        new($"{Rope}/Lead voice", "equaliser", "thins the low notes and lets the high ones pass",
            "band1.frequencyHz=75 Hz; band1.slopeDbPerOctave=18 dB/oct; " + ThinLowNotes),
        new($"{Rope}/Lead voice", "de-esser", "calms the sibilants, quiet lines and loud ones alike", CalmSibilants),
        new($"{Rope}/Lead voice", "compressor", "lets the quiet lines speak",
            "thresholdDb=-28 dB; ratio=1.8:1; kneeDb=12 dB; attackMs=12 ms; releaseMs=200 ms; autoRelease=on; keyHighPass=on; keyHighPassHz=120 Hz; autoMakeUp=on"),
        new($"{Rope}/Bass", "compressor", "makes room for the bass drum",
            "thresholdDb=-30 dB; ratio=2:1; attackMs=5 ms; releaseMs=140 ms") { KeyStem = "Drums" },
        new($"{Rope}/Acoustic guitar", "equaliser", "takes the boom out of the box and the foot off the floor",
            "band1.frequencyHz=65 Hz; band1.slopeDbPerOctave=24 dB/oct; band2.on=on; band2.shape=bell; band2.frequencyHz=114 Hz; band2.gainDb=-5 dB; band2.q=4"),
        new($"{Rope}/Strings", "equaliser", "cuts hiss above the instruments",
            "band1.frequencyHz=50 Hz; band2.on=on; band2.shape=low-pass; band2.frequencyHz=15 kHz; band2.slopeDbPerOctave=24 dB/oct"),
        new($"{Rope}/Electric piano", "equaliser", "cuts needless movement below the lowest note",
            "band1.frequencyHz=45 Hz; band1.slopeDbPerOctave=24 dB/oct"),

        new($"{Dredger}/Drums", "equaliser", "gives the snare a body and takes the ring out of the hats",
            "band1.frequencyHz=28 Hz; band2.on=on; band2.shape=bell; band2.frequencyHz=200 Hz; band2.gainDb=2.5 dB; band2.q=1; band3.on=on; band3.shape=bell; band3.frequencyHz=8.95 kHz; band3.gainDb=-7 dB; band3.q=14"),
        new($"{Dredger}/Percussion", "equaliser", "cuts the stand of the congas",
            "band1.frequencyHz=60 Hz; band1.slopeDbPerOctave=24 dB/oct"),
        new($"{Dredger}/Bass", "equaliser", "softens the pick clicks",
            "band1.frequencyHz=32 Hz; band2.on=on; band2.shape=bell; band2.frequencyHz=3.9 kHz; band2.gainDb=-6 dB; band2.q=1.2"),
        new($"{Dredger}/Bass", "compressor", "shortens the notes under the bass drum",
            "thresholdDb=-30 dB; ratio=2.5:1; attackMs=4 ms; releaseMs=110 ms") { KeyStem = "Drums" },
        new($"{Dredger}/Guitars rhythm", "equaliser", "takes the glare down, keeps the bite",
            "band1.frequencyHz=80 Hz; band2.on=on; band2.shape=bell; band2.frequencyHz=3.3 kHz; band2.gainDb=-4 dB; band2.q=1.1"),
        new($"{Dredger}/Lead voice", "equaliser", "cuts stand rumble",
            "band1.frequencyHz=90 Hz; band1.slopeDbPerOctave=24 dB/oct"),
        new($"{Dredger}/Lead voice", "de-esser", "calms the sibilants, quiet lines and loud ones alike", CalmSibilants),
        new($"{Dredger}/Lead voice", "compressor", "holds the voice in front",
            "thresholdDb=-26 dB; ratio=2.5:1; kneeDb=8 dB; attackMs=5 ms; releaseMs=110 ms; autoRelease=on; keyHighPass=on; keyHighPassHz=120 Hz; autoMakeUp=on"),
        new($"{Dredger}/Pad", "equaliser", "cuts hiss above the instrument",
            "band1.frequencyHz=35 Hz; band2.on=on; band2.shape=low-pass; band2.frequencyHz=15 kHz; band2.slopeDbPerOctave=24 dB/oct"),
    ];

    /// <summary>The album with every correction, a finished song bus, a parallel under one drum kit, and targets.</summary>
    public static Album Apply(Album album)
    {
        ProcessorCatalogue catalogue = BuiltInProcessors.Catalogue;
        album = album with { Targets = album.Targets with { IntegratedLufs = -13, CeilingDbtp = -1 } };
        foreach (Correction correction in All)
        {
            album = correction.Apply(album, catalogue);
        }

        album = AlbumEdits.AddParallel(album, $"{Dredger}/Drums", "Pressed", catalogue);
        album = AlbumAddress.Set(album, $"{Dredger}/Drums/parallel:Pressed.blendDb", "-9 dB", catalogue);
        album = new Correction($"{Dredger}/Drums/parallel:Pressed", "compressor", "adds impact under the kit",
            "thresholdDb=-34 dB; ratio=8:1; attackMs=18 ms; releaseMs=90 ms; autoMakeUp=on").Apply(album, catalogue);

        for (int song = 1; song <= album.Songs.Length; song++)
        {
            album = new Correction($"{song}/bus", "equaliser", "a little air, a little less mud",
                "band1.frequencyHz=22 Hz; band2.on=on; band2.shape=bell; band2.frequencyHz=280 Hz; band2.gainDb=-0.8 dB; band2.q=0.8; band3.on=on; band3.shape=high-shelf; band3.frequencyHz=11 kHz; band3.gainDb=1 dB; band3.q=0.7").Apply(album, catalogue);
            album = new Correction($"{song}/bus", "compressor", "holds the song together",
                "thresholdDb=-18 dB; ratio=1.5:1; kneeDb=10 dB; attackMs=30 ms; releaseMs=200 ms; autoRelease=on; keyHighPass=on; keyHighPassHz=90 Hz").Apply(album, catalogue);
            album = new Correction($"{song}/bus", "limiter", "the ceiling", "releaseMs=60 ms").Apply(album, catalogue);
        }

        return album;
    }

    private sealed record Correction(string Chain, string Processor, string Reason, string Settings)
    {
        public string? KeyStem { get; init; }

        public Album Apply(Album album, ProcessorCatalogue catalogue)
        {
            album = AlbumEdits.AddProcessor(album, Chain, Processor, catalogue);
            string slot = $"{Chain}/{Processor}";
            foreach (string setting in Settings.Split(';', StringSplitOptions.TrimEntries))
            {
                album = AlbumAddress.Set(album, $"{slot}.{setting}", catalogue);
            }

            album = AlbumAddress.Set(album, $"{slot}.reason", Reason, catalogue);
            return KeyStem is null ? album : AlbumAddress.Set(album, $"{slot}.key", KeyStem, catalogue);
        }
    }
}
