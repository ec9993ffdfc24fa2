using System.Text.Json;
using LiveStems.Analysis.Vetting;
using LiveStems.Engine.Hosting;
using LiveStems.Engine.Hosting.Isolation;
using LiveStems.Processing.Catalogue;

namespace LiveStems.Analysis.Trusting;

/// <summary>Vets a processor in a process of its own, so that not even one that ends its process does any harm.</summary>
public static class ApartVetting
{
    private static readonly TimeSpan Patience = TimeSpan.FromMinutes(8);

    /// <summary>What vetting found; that its process ended is a finding too.</summary>
    /// <exception cref="OperationCanceledException">It was called off; the process has been ended.</exception>
    public static VettedProcessor Examine(AssemblyFacts facts, string id, CancellationToken cancellation)
    {
        try
        {
            return JsonSerializer.Deserialize<VettedProcessor>(IsolatedAssembly.Vet(facts, id, Patience, cancellation))!;
        }
        catch (HostingException fault)
        {
            return new VettedProcessor(id, 0, [new VettingFinding("end", true, fault.Message)]);
        }
    }

    /// <summary>In that process: examines one, and gives the line that is its answer.</summary>
    public static string Answer(ProcessorMaker maker) => JsonSerializer.Serialize(ProcessorVetting.Examine(maker, CancellationToken.None));
}
