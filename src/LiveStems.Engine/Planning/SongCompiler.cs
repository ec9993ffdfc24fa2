using LiveStems.Albums.Model;
using LiveStems.Engine.RealTime;
using LiveStems.Engine.RealTime.Steps;
using LiveStems.Engine.Streaming;
using LiveStems.Files;
using LiveStems.Files.Reading;
using LiveStems.Processing.Catalogue;
using LiveStems.Processing.Contract;
using Parallel = LiveStems.Albums.Model.Parallel;

namespace LiveStems.Engine.Planning;

/// <summary>
/// Compiles a song into a plan: opens its stems, prepares its processors, and delays every path so that all meet on the
/// song bus aligned to the sample.
/// </summary>
public static class SongCompiler
{
    /// <summary>Compiles a song.</summary>
    /// <param name="song">The song.</param>
    /// <param name="albumFolder">The folder that stem paths are relative to.</param>
    /// <param name="catalogue">Where processors come from.</param>
    /// <param name="options">What it is compiled for.</param>
    /// <exception cref="AudioFileException">A stem cannot be opened, or the song has none.</exception>
    public static SongPlan Compile(Song song, string albumFolder, ProcessorCatalogue catalogue, PlanOptions options)
    {
        if (song.Stems.IsEmpty)
        {
            throw new AudioFileException($"the song '{song.Title}' has no stems; import some");
        }

        List<IAudioReader> readers = [];
        try
        {
            foreach (Stem stem in song.Stems)
            {
                readers.Add(AudioFile.Open(Path.Combine(albumFolder, stem.File)));
            }

            return new Compilation(song, catalogue, options, readers).Finish();
        }
        catch
        {
            readers.ForEach(reader => reader.Dispose());
            throw;
        }
    }

    private sealed class Compilation
    {
        private readonly Song song;
        private readonly PlanOptions options;
        private readonly List<IAudioReader> readers;
        private readonly int sampleRate;
        private readonly ProcessingFormat format;
        private readonly KeySources keys;
        private readonly ChainBuilder chains;
        private readonly List<string> remarks = [];
        private readonly List<PlanStep> head = [];
        private readonly List<PathUnderWay> paths = [];
        private readonly List<StemPump> pumps = [];

        public Compilation(Song song, ProcessorCatalogue catalogue, PlanOptions options, List<IAudioReader> readers)
        {
            this.song = song;
            this.options = options;
            this.readers = readers;
            sampleRate = RateChoice.For(song, readers.Select(reader => reader.Info.SampleRate), options.SampleRate);
            format = new ProcessingFormat(sampleRate, options.MaximumFrames);
            keys = new KeySources(options.MaximumFrames);
            chains = new ChainBuilder(catalogue, format, options.IsLive, keys);
        }

        public SongPlan Finish()
        {
            List<List<PlanStep>> branches = [.. song.Stems.Select((stem, index) => OpenStem(stem, readers[index]))];
            List<StemPath> stems = [];
            for (int i = 0; i < branches.Count; i++)
            {
                stems.Add(BuildStem(song.Stems[i], readers[i].Info.Channels == 1, inputs[i], branches[i]));
            }

            int longest = paths.Max(path => path.LatencyFrames);
            foreach (PathUnderWay path in paths)
            {
                path.Steps.Add(new BranchOutputStep(path.Buffer, path.Output, longest - path.LatencyFrames));
            }

            StereoBuffer master = new(options.MaximumFrames);
            List<PlanStep> tail = [new MixStep([.. paths.Select(path => path.Output)], master)];
            List<PlannedSlot> busSlots = [];
            int busLatency = chains.Append(song.Bus, "song bus", master, longest, tail, busSlots);
            remarks.AddRange(chains.MissingProcessors);
            Plan plan = new([.. head], [.. branches.Select(branch => branch.ToArray())], [.. tail], master, longest + busLatency);
            return new SongPlan(song, sampleRate, plan, pumps, stems, busSlots, remarks);
        }

        private readonly List<StereoBuffer> inputs = [];

        private List<PlanStep> OpenStem(Stem stem, IAudioReader file)
        {
            IAudioReader reader = file;
            if (file.Info.SampleRate != sampleRate)
            {
                reader = new ResampledReader(file, sampleRate);
                remarks.Add($"{stem.Name}: converted from {file.Info.SampleRate} Hz to {sampleRate} Hz");
            }

            StemFeed feed = new(options.IsLive ? 2 : 1, options.LookAheadFrames, options.MaximumFrames);
            pumps.Add(new StemPump(reader, feed, stem.Placement.DelayFrames, PlanTiming.RampFrames(sampleRate)));

            StereoBuffer input = new(options.MaximumFrames);
            inputs.Add(input);
            float centre = file.Info.Channels == 1 ? PanLaw.MonoCentre : 1;
            Polarity polarity = stem.Placement.Polarity;
            ReadStemStep read = new(
                feed.Input,
                input,
                polarity is Polarity.Inverted or Polarity.LeftInverted ? -centre : centre,
                polarity is Polarity.Inverted or Polarity.RightInverted ? -centre : centre);
            if (!IsListenedTo(stem))
            {
                return [read];
            }

            head.Add(read);
            keys.Add(stem.Name, input, head);
            return [];
        }

        private bool IsListenedTo(Stem stem) =>
            song.Stems
                .SelectMany(other => other.Parallels.Select(parallel => parallel.Chain).Append(other.Chain))
                .Append(song.Bus)
                .SelectMany(chain => chain.Slots)
                .Any(slot => slot.KeyStem == stem.Name);

        private StemPath BuildStem(Stem stem, bool isMono, StereoBuffer buffer, List<PlanStep> steps)
        {
            List<(Parallel Parallel, StereoBuffer Feed, int Latency)> feeds = [];
            FeedParallels(stem, false, buffer, 0, steps, feeds);
            List<PlannedSlot> slots = [];
            int latency = chains.Append(stem.Chain, stem.Name, buffer, 0, steps, slots);
            FeedParallels(stem, true, buffer, latency, steps, feeds);

            MixGains.Pair gains = MixGains.OfStem(song, stem, isMono, options.IsLive);
            BranchOutput output = AddPath(buffer, latency, gains, steps);
            List<ParallelPath> parallels = [];
            foreach (Parallel parallel in stem.Parallels)
            {
                (_, StereoBuffer feed, int startLatency) = feeds.First(entry => ReferenceEquals(entry.Parallel, parallel));
                List<PlannedSlot> parallelSlots = [];
                int own = chains.Append(parallel.Chain, $"{stem.Name}, {parallel.Name}", feed, startLatency, steps, parallelSlots);
                BranchOutput parallelOutput = AddPath(feed, startLatency + own, MixGains.OfParallel(gains, parallel), steps);
                parallels.Add(new ParallelPath(parallel, parallelSlots, parallelOutput));
            }

            return new StemPath(stem, isMono, slots, output, parallels);
        }

        private void FeedParallels(
            Stem stem,
            bool afterChain,
            StereoBuffer source,
            int latency,
            List<PlanStep> steps,
            List<(Parallel, StereoBuffer, int)> feeds)
        {
            foreach (Parallel parallel in stem.Parallels.Where(parallel => parallel.AfterChain == afterChain))
            {
                StereoBuffer feed = new(options.MaximumFrames);
                steps.Add(new CopyStep(source, feed, 0));
                feeds.Add((parallel, feed, latency));
            }
        }

        private BranchOutput AddPath(StereoBuffer buffer, int latency, MixGains.Pair gains, List<PlanStep> steps)
        {
            BranchOutput output = new(
                options.MaximumFrames,
                new RampedStereoGain(PlanTiming.RampFrames(sampleRate), gains.Left, gains.Right));
            paths.Add(new PathUnderWay(buffer, latency, output, steps));
            return output;
        }
    }

    private sealed record PathUnderWay(StereoBuffer Buffer, int LatencyFrames, BranchOutput Output, List<PlanStep> Steps);
}
