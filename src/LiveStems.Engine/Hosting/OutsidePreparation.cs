using System.Runtime.CompilerServices;
using LiveStems.Albums.Model;
using LiveStems.Processing.Catalogue;
using LiveStems.Processing.Contract;

namespace LiveStems.Engine.Hosting;

/// <summary>Prepares processors of others with a limit to the time it may take, and does not try again what did not come to an end.</summary>
internal static class OutsidePreparation
{
    /// <summary>What is said of one that does not come back, here or in a process of its own.</summary>
    public const string Endless = "it does not come to an end when it is prepared";

    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(5);

    // By its description, which is the same object for every processor of a kind and another one for a new build.
    private static readonly ConditionalWeakTable<ProcessorDescription, object> Hung = [];

    /// <summary>Runs the preparation of a slot's processor.</summary>
    /// <exception cref="HostingException">It does not come to an end, now or earlier.</exception>
    public static T Run<T>(ProcessorCatalogue catalogue, ChainSlot slot, Func<T> prepare)
    {
        ProcessorDescription kind = catalogue.Find(slot.Processor)!;
        if (Hung.TryGetValue(kind, out _))
        {
            throw new HostingException(Endless);
        }

        try
        {
            // One in a process of its own has its limits there.
            return catalogue.RunsApart(slot.Processor, slot.OwnProcess) ? prepare() : Bounded.Run(prepare, Patience, Endless);
        }
        catch (HostingException fault) when (fault.Message == Endless)
        {
            Hung.AddOrUpdate(kind, Endless);
            throw;
        }
    }
}
