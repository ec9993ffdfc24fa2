using LiveStems.Engine.Comparing;
using LiveStems.Engine.Live;
using LiveStems.Processing.Contract;
using LiveStems.View.Desk;

namespace LiveStems.Bench.Scenarios;

/// <summary>Somebody who does anything at all on a desk, in any order: what they do follows from the seed.</summary>
public sealed class RandomHands
{
    private readonly AlbumDesk desk;
    private readonly Random random;
    private readonly Action[] actions;

    /// <summary>Hands on a desk.</summary>
    public RandomHands(AlbumDesk desk, int seed)
    {
        this.desk = desk;
        random = new Random(seed);
        actions =
        [
            TurnAField, TurnAField, TurnAField, TurnAField, DragAField, DragAField, TypeNonsense, MoveAStem, MoveAStem, SelectSomething,
            SelectSomething, AddAProcessor, RemoveAProcessor, ReorderAProcessor, BypassSomething, UndoOrRedo, UndoOrRedo, PlayOrSeek, PlayOrSeek,
            Loop, Listen, Listen, Compare, BlindTest, AddANote, AddOrRemoveAParallel, AnotherSong, RunACommand, SetAKey,
        ];
    }

    /// <summary>How many things were done.</summary>
    public long Done { get; private set; }

    /// <summary>How many were refused, with a line that said why.</summary>
    public long Refused { get; private set; }

    /// <summary>The name of the last thing that was tried.</summary>
    public string Latest { get; private set; } = string.Empty;

    /// <summary>Does one thing.</summary>
    public void DoOne()
    {
        Action action = actions[random.Next(actions.Length)];
        Latest = action.Method.Name;
        action();
        Done++;
    }

    private void TurnAField() => Say(Field()?.Step(random.Next(-10, 11), random.Next(2) == 0));

    private void DragAField()
    {
        if (Field() is { } field)
        {
            for (int i = random.Next(1, 12); i > 0; i--)
            {
                Say(field.Drag(random.NextDouble()));
            }

            if (random.Next(2) == 0)
            {
                desk.EndGesture();
            }
        }
    }

    private void TypeNonsense()
    {
        string[] texts = ["loud", string.Empty, "1e999", "NaN", "-3 dB", "12 parsecs", "4:1", "100 %", "0", "on", "−∞", "1000000"];
        Say(Field()?.SetText(texts[random.Next(texts.Length)]));
    }

    private void MoveAStem()
    {
        StemRow row = desk.Stems[random.Next(desk.Stems.Count)];
        switch (random.Next(6))
        {
            case 0: Say(row.ToggleMute()); break;
            case 1: row.ToggleSolo(random.Next(3) == 0); break;
            case 2: Say(row.ToggleBypass()); break;
            case 3: Say(row.NextPolarity()); break;
            case 4: Say(row.Gain.Drag(random.NextDouble())); break;
            default: Say(row.Pan.Step(random.Next(-20, 21))); break;
        }
    }

    private void SelectSomething()
    {
        int stem = random.Next(-1, desk.Stems.Count);
        int parallel = stem >= 0 && desk.Stems[stem].Parallels.Count > 0 ? random.Next(-1, desk.Stems[stem].Parallels.Count) : -1;
        desk.Select(new TapPlace(stem, parallel, null));
        if (desk.Chain.Processors.Count > 0 && random.Next(2) == 0)
        {
            desk.Chain.Processors[random.Next(desk.Chain.Processors.Count)].Select();
        }
    }

    private void AddAProcessor()
    {
        if (desk.Chain.Processors.Count < 6)
        {
            ProcessorDescription[] kinds = [.. desk.Chain.Kinds];
            Say(desk.Chain.Add(kinds[random.Next(kinds.Length)].Id, random.Next(2) == 0 ? null : random.Next(desk.Chain.Processors.Count + 1)));
        }
    }

    private void RemoveAProcessor()
    {
        if (desk.Chain.Processors.Count > 3)
        {
            Say(desk.Chain.Processors[random.Next(desk.Chain.Processors.Count)].Remove());
        }
    }

    private void ReorderAProcessor()
    {
        if (Processor() is { } processor)
        {
            Say(processor.MoveTo(random.Next(-1, desk.Chain.Processors.Count + 1)));
        }
    }

    private void BypassSomething() => Say(random.Next(3) == 0 ? desk.Chain.ToggleBypass() : Processor()?.ToggleBypass());

    private void UndoOrRedo()
    {
        for (int i = random.Next(1, 4); i > 0; i--)
        {
            _ = random.Next(3) > 0 ? desk.Undo() : desk.Redo();
        }
    }

    private void PlayOrSeek()
    {
        if (random.Next(2) == 0)
        {
            desk.Transport.Toggle();
        }
        else
        {
            desk.Transport.Seek(random.NextDouble() * desk.Transport.LengthSeconds);
        }
    }

    private void Loop()
    {
        if (random.Next(3) == 0)
        {
            desk.Transport.ClearLoop();
        }
        else
        {
            desk.Transport.SetLoop(random.NextDouble() * desk.Transport.LengthSeconds, random.NextDouble() * desk.Transport.LengthSeconds);
        }
    }

    private void Listen()
    {
        switch (random.Next(6))
        {
            case 0: desk.Monitor.ToggleBand(); break;
            case 1: desk.Monitor.ListenBetween(random.Next(20, 20_000), random.Next(20, 20_000)); break;
            case 2: desk.Monitor.ToggleDim(); break;
            case 3: desk.Monitor.ChangeLevel(random.Next(-12, 13)); break;
            case 4: desk.Spectrum.ShowsSong = !desk.Spectrum.ShowsSong; break;
            default: desk.Monitor.WidenBand(random.NextDouble() + 0.5); break;
        }
    }

    private void Compare()
    {
        switch (random.Next(4))
        {
            case 0: Say(desk.Compare.Choose((CompareKind)random.Next(Enum.GetValues<CompareKind>().Length), "none")); break;
            case 1: desk.Compare.Stop(); break;
            case 2: Say(desk.Compare.Hear((CompareSide)random.Next(3))); break;
            default: Say(desk.Compare.Toggle()); break;
        }
    }

    private void BlindTest()
    {
        if (!desk.Compare.Blind.IsRunning)
        {
            Say(desk.Compare.Blind.Start(random.Next(1, 5)));
        }
        else if (random.Next(2) == 0)
        {
            desk.Compare.Blind.Hear(random.Next(2) == 0);
        }
        else
        {
            desk.Compare.Blind.Answer((BlindAnswer)random.Next(3));
        }
    }

    private void AddANote()
    {
        if (desk.Song.Notes.Length > 20)
        {
            Say(desk.Notes.RemoveOfSong(random.Next(desk.Song.Notes.Length)));
        }
        else
        {
            Say(desk.Notes.AddToSong(random.Next(2) == 0 ? null : random.NextDouble() * 60, random.Next(3) == 0 ? " " : $"note {random.Next(100)}"));
        }
    }

    private void AddOrRemoveAParallel()
    {
        StemRow row = desk.Stems[random.Next(desk.Stems.Count)];
        Say(row.Parallels.Count > 1 ? row.Parallels[random.Next(row.Parallels.Count)].Remove() : row.AddParallel($"Under {random.Next(4)}"));
    }

    private void AnotherSong()
    {
        if (random.Next(4) == 0)
        {
            desk.ShowSong(random.Next(desk.Album.Songs.Length));
        }
    }

    private void RunACommand()
    {
        DeskCommand command = desk.Commands.All[random.Next(desk.Commands.All.Count)];
        if (command.Id is not ("account" or "target" or "check" or "find" or "masking") && !command.Id.StartsWith("add-", StringComparison.Ordinal))
        {
            Say(command.Run());
        }
    }

    private void SetAKey()
    {
        if (Processor() is { ListensToKey: true } processor)
        {
            Say(processor.SetKey(random.Next(3) == 0 ? null : random.Next(6) == 0 ? "nobody" : desk.Stems[random.Next(desk.Stems.Count)].Name));
        }
    }

    private ProcessorModel? Processor() =>
        desk.Chain.Processors.Count == 0 ? null : desk.Chain.Processors[random.Next(desk.Chain.Processors.Count)];

    private ValueField? Field() => Processor() is { Parameters.Count: > 0 } processor
        ? processor.Parameters[random.Next(processor.Parameters.Count)]
        : null;

    private void Say(string? fault)
    {
        if (fault is null)
        {
            return;
        }

        Refused++;
        if (fault.Length == 0 || fault.Contains('\n', StringComparison.Ordinal))
        {
            throw new InvalidOperationException($"{Latest} was refused without one clear line: '{fault}'");
        }
    }
}
