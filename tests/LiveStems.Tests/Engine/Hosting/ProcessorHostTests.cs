using System.Runtime.CompilerServices;
using LiveStems.Engine.Hosting;
using LiveStems.Processing.Contract;
using Xunit;

namespace LiveStems.Tests.Engine.Hosting;

public sealed class ProcessorHostTests : IDisposable
{
    private readonly OutsideFiles files = new();

    public void Dispose() => files.Dispose();

    [Fact]
    public void FileIsShownBeforeAnythingOfItRuns()
    {
        string path = files.Put("DiesAtOnce");
        OutsideAssembly found = files.Single();
        Assert.Equal(OutsideState.New, found.State);
        Assert.Equal(("DiesAtOnce", "1.0.0", "The Kelp Ledger"), (found.Facts.Name, found.Facts.Version, found.Facts.Author));
        Assert.Equal(["Outside.DiesAtOnce.DiesAtOnceProcessor"], found.Facts.Types);
        Assert.Equal(Convert.ToHexStringLower(System.Security.Cryptography.SHA256.HashData(File.ReadAllBytes(path))), found.Facts.Sha256);
        Assert.Equal(new Version(1, 0, 0, 0), found.Facts.ContractVersion);
    }

    [Fact]
    public void WhatCodeAsksForIsRead()
    {
        Assert.Empty(AssemblyExaminer.Examine(OutsideFiles.Built("Tilt")).Asks);
        Assert.Equal(["threads of its own"], AssemblyExaminer.Examine(OutsideFiles.Built("Hostile")).Asks);
        Assert.Equal(["memory by address (unsafe code)", "native memory or code", "threads of its own"], AssemblyExaminer.Examine(OutsideFiles.Built("Deadly")).Asks);

        // The tests themselves read files, start threads and other programs, and use what has been found by name.
        IReadOnlyList<string> own = AssemblyExaminer.Examine(typeof(ProcessorHostTests).Assembly.Location).Asks;
        Assert.Contains("files", own);
        Assert.Contains("memory by address (unsafe code)", own);
        Assert.Contains("code found by name while it runs (reflection)", own);
    }

    [Fact]
    public void TrustedAssemblyIsInTheCatalogueBesideTheBuiltInOnes()
    {
        files.Put("Tilt");
        Assert.Null(files.Open().Catalogue.Find("outside-tilt"));
        files.TrustAll();
        ProcessorHost host = files.Open();
        Assert.Equal("Outside tilt", host.Catalogue.Find("outside-tilt")!.Name);
        Assert.NotNull(host.Catalogue.Create("equaliser"));
        Assert.NotSame(host.Catalogue.Create("outside-tilt"), host.Catalogue.Create("outside-tilt"));
    }

    [Fact]
    public void ChangedFileAsksAgainAndIsNotLoaded()
    {
        files.Put("Tilt");
        files.TrustAll();
        files.Put("Tilt", change: OutsideFiles.Rebuilt);
        ProcessorHost host = files.Open();
        Assert.Equal(OutsideState.Changed, host.Assemblies.Single().State);
        Assert.Null(host.Catalogue.Find("outside-tilt"));
        files.Put("Tilt");
        Assert.Equal(OutsideState.Loaded, files.Single().State);
    }

    [Fact]
    public void ChangedCompanionAsksAgain()
    {
        // Any assembly that another one refers to and that lies beside it is its companion: here a copy of one of the runtime's.
        string runtime = Path.Combine(Path.GetDirectoryName(typeof(object).Assembly.Location)!, "System.Runtime.dll");
        files.Put("Tilt", Path.Combine("tilt", "Tilt.dll"));
        string companion = Path.Combine(files.Places.Folder, "tilt", "System.Runtime.dll");
        File.Copy(runtime, companion);
        files.TrustAll();
        Assert.Equal("System.Runtime.dll", files.Single().Facts.Companions.Keys.Single());
        using (FileStream stream = new(companion, FileMode.Append))
        {
            stream.WriteByte(0);
        }

        Assert.Equal(OutsideState.Changed, files.Single().State);
    }

    [Fact]
    public void RefusedFileStaysRefused()
    {
        files.Put("Tilt");
        ProcessorHost host = files.Open();
        host.Decide(OutsideFiles.Decision(host.Assemblies[0].Facts, false, "outside-tilt"));
        ProcessorHost again = files.Open();
        Assert.Equal(OutsideState.Refused, again.Assemblies[0].State);
        Assert.Equal("you have refused Tilt.dll", again.Catalogue.Absent["outside-tilt"]);
    }

    [Fact]
    public void RefusedProcessorIsLeftOutAndToldAndItsSiblingsRun()
    {
        files.Put("Hostile");
        ProcessorHost host = files.Open();
        VettedProcessor vetted = new("hostile-nan", 0, [new VettingFinding("sound", true, "gives what is no number")]);
        TrustEntry decision = OutsideFiles.Decision(host.Assemblies[0].Facts, true, "hostile-nan", "hostile-blocks") with { Vetting = [vetted] };
        host.Decide(decision);
        ProcessorHost before = files.Open();
        Assert.NotNull(before.Catalogue.Find("hostile-nan"));
        host.Decide(decision with { Refused = ["hostile-nan", "hostile-loud"] });
        foreach (ProcessorHost after in new[] { files.Open(), ProcessorHost.Open(files.Places, before) })
        {
            Assert.Null(after.Catalogue.Find("hostile-nan"));
            Assert.NotNull(after.Catalogue.Find("hostile-blocks"));
            Assert.Equal("Hostile.dll is trusted without it: it gives what is no number", after.Catalogue.Absent["hostile-nan"]);
            Assert.Equal("Hostile.dll is trusted without it: you have refused it", after.Catalogue.Absent["hostile-loud"]);
            Assert.Contains("hostile-nan", after.Find("hostile-nan").Single().Processors);
        }

        // What plays on while its file is another is without it for the reason that it had.
        ProcessorHost loaded = files.Open();
        files.Put("Hostile", change: OutsideFiles.Rebuilt);
        ProcessorHost changed = ProcessorHost.Open(files.Places, loaded);
        Assert.Equal(OutsideState.Changed, changed.Assemblies.Single().State);
        Assert.Equal("Hostile.dll is trusted without it: it gives what is no number", changed.Catalogue.Absent["hostile-nan"]);

        // A later yes brings it back.
        files.Put("Hostile");
        host.Decide(decision);
        Assert.NotNull(ProcessorHost.Open(files.Places, files.Open()).Catalogue.Find("hostile-nan"));
    }

    [Fact]
    public void DecisionTakesThePlaceOfEveryOtherAboutTheSameContent()
    {
        files.Put("Tilt");
        AssemblyFacts facts = files.Single().Facts;
        TrustStore store = new(files.Places.TrustFile);
        store.Put(OutsideFiles.Decision(facts, true));
        store.Put(OutsideFiles.Decision(facts with { File = "/elsewhere/Brighter.dll" }, false));
        Assert.Equal(["Brighter.dll"], store.Load().Entries.Select(entry => entry.File));
        Assert.Equal(OutsideState.Refused, files.Single().State);
    }

    [Fact]
    public void FileThatIsRenamedWhileItIsLoadedGoesOnUnderItsNewName()
    {
        string path = files.Put("Tilt");
        files.TrustAll();
        ProcessorHost before = files.Open();
        string renamed = Path.Combine(files.Places.Folder, "Tilt2.dll");
        File.Move(path, renamed);
        ProcessorHost after = ProcessorHost.Open(files.Places, before);
        Assert.Equal([renamed], after.Assemblies.Select(assembly => assembly.Facts.File));
        Assert.NotNull(after.Catalogue.Find("outside-tilt"));

        // What is gone without another in its place plays on.
        File.Delete(renamed);
        Assert.NotNull(ProcessorHost.Open(files.Places, after).Catalogue.Find("outside-tilt"));
    }

    [Fact]
    public void CompanionThatCannotBeReadIsTold()
    {
        files.Put("Tilt", Path.Combine("tilt", "Tilt.dll"));
        File.CreateSymbolicLink(Path.Combine(files.Places.Folder, "tilt", "System.Runtime.dll"), Path.Combine(files.Root, "nowhere.dll"));
        OutsideAssembly found = files.Single();
        Assert.Equal(OutsideState.Unusable, found.State);
        Assert.StartsWith("needs System.Runtime.dll, which cannot be read: ", found.Fault);
    }

    [Fact]
    public void TypesThatStandInEachOtherAreADamagedFile()
    {
        File.WriteAllBytes(Path.Combine(files.Places.Folder, "Circle.dll"), OutsideFiles.Circular());
        Assert.Equal("is no .NET assembly, or a damaged one; copy or build it anew", files.Single().Fault);
    }

    [Theory]
    [InlineData("The Kelp Ledger", "The Kelp Ledger")]
    [InlineData("Zoë & Søn, 東京 ♫", "Zoë & Søn, 東京 ♫")]
    [InlineData("a\u001b[31mb\u202ec\u2066d\u200be", "a\ufffd[31mb\ufffdc\ufffdd\ufffde")]
    [InlineData("one\r\ntwo\tthree\u2028four", "one two three four")]
    public void WhatOthersWroteIsShownAsItIsOrNotAtAll(string text, string shown) => Assert.Equal(shown, PlainText.Of(text));

    [Fact]
    public void WhatOthersWroteFillsNoPage() => Assert.Equal("abc…", PlainText.Of("abcd", 3));

    [Fact]
    public void HalfALetterIsShownAsNone() => Assert.Equal("\ufffd alone", PlainText.Of("\ud800 alone"));

    [Fact]
    public void EachUnusableFileIsToldInOneLine()
    {
        File.WriteAllText(Path.Combine(files.Places.Folder, "a.dll"), "hello");
        files.Put("Tilt", "b.dll", OutsideFiles.ForOtherMachine);
        files.Put("Tilt", "c.dll", OutsideFiles.WithMissingNeed);
        files.Put("Tilt", "d.dll", bytes => OutsideFiles.ForContract(bytes, new Version(1, 7)));
        files.Put("Tilt", "e.dll", bytes => OutsideFiles.ForContract(bytes, new Version(2, 0)));
        files.Put("Tilt", "f.dll", bytes => bytes[..2000]);
        files.Put("HoldBack", "g.dll", bytes => OutsideFiles.ForContract(bytes, new Version(1, 7), of: "LiveStems.Dsp"));
        files.Put("HoldBack", "h.dll", bytes => OutsideFiles.ForContract(bytes, new Version(0, 9), of: "LiveStems.Dsp"));
        string?[] faults = [.. files.Open().Assemblies.Select(assembly => assembly.Fault)];
        Assert.Equal(8, faults.Length);
        Assert.Equal("is no .NET assembly, or a damaged one; copy or build it anew", faults[0]);
        Assert.StartsWith("was built for Arm processors and this machine has ", faults[1]);
        Assert.Equal("needs Sistem.Runtime.dll, which is not beside c.dll; copy it there", faults[2]);
        Assert.Equal("was built for LiveStems.Processing 1.7.0 and this program has 1.0.0; use a newer LiveStems, or a build for this one", faults[3]);
        Assert.Equal("was built for LiveStems.Processing 2.0.0 and this program has 1.0.0; use a newer LiveStems, or a build for this one", faults[4]);
        Assert.Equal("is no .NET assembly, or a damaged one; copy or build it anew", faults[5]);
        Assert.Equal("was built for LiveStems.Dsp 1.7.0 and this program has 1.0.0; use a newer LiveStems, or a build for this one", faults[6]);
        Assert.Equal("was built for LiveStems.Dsp 0.9.0, which 1.0.0 no longer runs; ask its author for a newer build", faults[7]);
        Assert.All(faults, fault => Assert.DoesNotContain('\n', fault!));
    }

    [Fact]
    public void SecondProcessorOfOneIdIsNotLoaded()
    {
        files.Put("Tilt");
        files.Put("Tilt", "Twin.dll", OutsideFiles.Rebuilt);
        files.TrustAll();
        ProcessorHost host = files.Open();
        Assert.Equal([OutsideState.Loaded, OutsideState.Unusable], host.Assemblies.Select(assembly => assembly.State));
        Assert.Equal("its id 'outside-tilt' belongs to another processor already; keep one of the two in the folder", host.Assemblies[1].Fault);
    }

    [Fact]
    public void OfASecondFileOfOneIdNothingIsSaidToBeRefused()
    {
        files.Put("Hostile");
        files.Put("Hostile", "Twin.dll", OutsideFiles.Rebuilt);
        ProcessorHost host = files.Open();
        host.Decide(OutsideFiles.Decision(host.Assemblies[0].Facts, true) with { Refused = ["hostile-loud"] });
        host.Decide(OutsideFiles.Decision(host.Assemblies[1].Facts, true, "hostile-nan") with { Refused = ["hostile-nan"] });
        OutsideAssembly twin = files.Open().Assemblies[1];
        Assert.Equal(OutsideState.Unusable, twin.State);
        Assert.Empty(twin.RefusedProcessors);
    }

    [Fact]
    public void ProcessorThatDiesInItsStaticConstructorIsToldInOneLine()
    {
        files.Put("DiesAtOnce");
        files.TrustAll();
        OutsideAssembly found = files.Single();
        Assert.Equal(OutsideState.Unusable, found.State);
        Assert.Equal("Outside.DiesAtOnce.DiesAtOnceProcessor cannot be made: InvalidOperationException, the tide is out", found.Fault);
    }

    [Fact]
    public void DamagedDecisionsTrustNothing()
    {
        files.Put("Tilt");
        files.TrustAll();
        File.WriteAllText(files.Places.TrustFile, "{ \"schema\": 1, \"entries\": [ { } ");
        ProcessorHost host = files.Open();
        Assert.Equal(OutsideState.New, host.Assemblies.Single().State);
        Assert.Contains("move it away to decide anew", host.StoreFault);
    }

    [Fact]
    public void FilesInTheFolderCanBeReplacedWhileTheyAreLoadedAndTheOldCodeIsLetGo()
    {
        string path = files.Put("Tilt");
        files.TrustAll();
        WeakReference loaded = Use();
        File.Delete(path);
        for (int i = 0; i < 20 && loaded.IsAlive; i++)
        {
            GC.Collect();
            GC.WaitForPendingFinalizers();
        }

        Assert.False(loaded.IsAlive);

        [MethodImpl(MethodImplOptions.NoInlining)]
        WeakReference Use()
        {
            Processor processor = files.Open().Catalogue.Create("outside-tilt")!;
            processor.Prepare(new ProcessingFormat(48_000, 64));
            processor.Process(new StereoBlock(new float[64], new float[64]));
            return new WeakReference(processor.GetType().Assembly);
        }
    }
}
