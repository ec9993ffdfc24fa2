using System.Text.Json;
using LiveStems.Analysis.Vetting;
using LiveStems.Engine.Hosting;
using LiveStems.Engine.Hosting.Isolation;
using LiveStems.Files.Native;

namespace LiveStems.App;

/// <summary>The program as the process of an outside assembly, and how it is asked to vet one.</summary>
internal static class OwnProcess
{
    private static readonly TimeSpan VettingPatience = TimeSpan.FromMinutes(8);

    /// <summary>Serves until its orders end.</summary>
    public static int Run()
    {
        // An interruption from the terminal reaches this process too; the program itself decides what ends.
        Console.CancelKeyPress += (_, pressed) => pressed.Cancel = true;
        using StreamReader orders = new(Console.OpenStandardInput());
        using StreamWriter answers = new(Console.OpenStandardOutput());

        // What outside code prints goes nowhere.
        Console.SetOut(TextWriter.Null);
        Console.SetIn(TextReader.Null);
        return ProcessorRunner.Run(orders, answers, maker => JsonSerializer.Serialize(ProcessorVetting.Examine(maker, CancellationToken.None)), () => ProgramEnd.AtOnce(0));
    }

    /// <summary>Vets a processor in a process of its own, so that not even one that ends its process does any harm.</summary>
    public static VettedProcessor Vet(AssemblyFacts facts, string id, CancellationToken interruption)
    {
        try
        {
            return JsonSerializer.Deserialize<VettedProcessor>(IsolatedAssembly.Vet(facts, id, VettingPatience, interruption))!;
        }
        catch (HostingException fault)
        {
            return new VettedProcessor(id, 0, [new VettingFinding("end", true, fault.Message)]);
        }
    }
}
