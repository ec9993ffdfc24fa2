using BenchmarkDotNet.Running;
using LiveStems.Bench.Planted;
using LiveStems.Bench.Scenarios;
using LiveStems.Bench.Scenarios.Outside;

// Whole jobs against a peer are plain runs of processes in turns; everything else is a micro-benchmark.
if (args is ["ten-stems", ..])
{
    TenStemsAgainstFfmpeg.Run(minutes: args.Length > 1 ? int.Parse(args[1]) : 5, rounds: args.Length > 2 ? int.Parse(args[2]) : 3);
    return;
}

// ten-stems-album FOLDER [SECONDS]: what ten-stems renders, to be rendered by hand
if (args is ["ten-stems-album", var written, ..])
{
    Directory.CreateDirectory(written);
    TenStemAlbum.Write(written, args.Length > 2 ? int.Parse(args[2]) : 300);
    return;
}

// live ALBUM [MINUTES of each run] [ROUNDS] [FRAMES,FRAMES…]
if (args is ["live", var album, ..])
{
    LiveLateness.Run(
        album,
        60 * (args.Length > 2 ? double.Parse(args[2]) : 10),
        args.Length > 3 ? int.Parse(args[3]) : 1,
        args.Length > 4 ? [.. args[4].Split(',').Select(int.Parse)] : [64, 256],
        args.Length > 5 ? [.. args[5].Split(',').Select(int.Parse)] : [1, 2, 3, 4]);
    return;
}

// cold-start ALBUM [RUNS]
if (args is ["cold-start", var startedAlbum, ..])
{
    ColdStart.Run(startedAlbum, args.Length > 2 ? int.Parse(args[2]) : 10);
    return;
}

// jumps ALBUM [JUMPS]
if (args is ["jumps", var jumped, ..])
{
    JumpTime.Run(jumped, args.Length > 2 ? int.Parse(args[2]) : 100);
    return;
}

if (args is ["live-load"])
{
    LiveLoad.Run();
    return;
}

if (args is ["compare-cost", var compared])
{
    CompareCost.Run(compared);
    return;
}

// desk-soak ALBUM [MINUTES] [SEED] [types]
if (args is ["desk-soak", var worked, ..])
{
    DeskSoak.Run(worked, args.Length > 2 ? double.Parse(args[2]) : 10, args.Length > 3 ? int.Parse(args[3]) : Environment.TickCount, args is [.., "types"]);
    return;
}

// account-album FOLDER [MINUTES]
if (args is ["account-album", var accounted, ..])
{
    AccountTime.Write(accounted, args.Length > 2 ? int.Parse(args[2]) : 4);
    return;
}

if (args is ["account", ..])
{
    AccountTime.Run(minutes: args.Length > 1 ? int.Parse(args[1]) : 4);
    return;
}

if (args is ["planted-faults", ..])
{
    PlantedFaults.Run(args[1..]);
    return;
}

// outside cost | soak [SECONDS] [PROCESSES] [FRAMES] | hang [ROUNDS] | replace [ROUNDS] | published [ROUNDS]; builds of tests/Outside are needed
if (args is ["outside", ..])
{
    OutsideProcessors.Run(args[1..]);
    return;
}

if (args is ["processors"])
{
    ProcessorsAgainstFfmpeg.Run();
    return;
}

// resampling [ROUNDS] [RATE,RATE…]
if (args is ["resampling", ..])
{
    ResamplingAgainstSoxr.Run(
        args.Length > 1 ? int.Parse(args[1]) : 5,
        args.Length > 2 ? [.. args[2].Split(',').Select(int.Parse)] : []);
    return;
}

if (args is ["planted-resonances", ..])
{
    PlantedResonances.Run(args);
    return;
}

// delivery-speed ALBUM [ROUNDS]
if (args is ["delivery-speed", var whole, ..])
{
    DeliverySpeed.Run(whole, args.Length > 2 ? int.Parse(args[2]) : 1);
    return;
}

// hundred-songs ALBUM [SONGS]
if (args is ["hundred-songs", var reused, ..])
{
    HundredSongs.Run(reused, args.Length > 2 ? int.Parse(args[2]) : 100);
    return;
}

if (args is ["delivery", var delivered, ..])
{
    DeliveryKills.Run(delivered, args.Length > 2 ? int.Parse(args[2]) : 20, args.Length > 3 ? int.Parse(args[3]) : Random.Shared.Next());
    return;
}

BenchmarkSwitcher.FromAssembly(System.Reflection.Assembly.GetExecutingAssembly()).Run(args);
