using System.Runtime.CompilerServices;
using LiveStems.Processing.Contract;

namespace LiveStems.Processing.Catalogue;

/// <summary>The processors a program can use, by id.</summary>
public sealed class ProcessorCatalogue
{
    private readonly Dictionary<string, ProcessorMaker> makers = new(StringComparer.Ordinal);

    /// <summary>A catalogue of the given makers; each is called once now to learn the description.</summary>
    /// <exception cref="ArgumentException">Two makers have one id.</exception>
    [OverloadResolutionPriority(1)]
    public ProcessorCatalogue(IEnumerable<Func<Processor>> makers)
        : this(makers.Select(maker => new ProcessorMaker(maker().Description, maker)))
    {
    }

    /// <summary>A catalogue of the given makers, none of which is called before it is needed.</summary>
    /// <exception cref="ArgumentException">Two makers have one id.</exception>
    public ProcessorCatalogue(IEnumerable<ProcessorMaker> makers)
    {
        foreach (ProcessorMaker maker in makers)
        {
            if (!this.makers.TryAdd(maker.Description.Id, maker))
            {
                throw new ArgumentException($"two processors have the id '{maker.Description.Id}'");
            }
        }
    }

    /// <summary>Why processors that are known of cannot be used, by id, each in a few words.</summary>
    public IReadOnlyDictionary<string, string> Absent { get; init; } = new Dictionary<string, string>();

    /// <summary>
    /// The same with some processors not made any more inside the program: those that can run in another process are still
    /// made there, the others are gone.
    /// </summary>
    /// <param name="ids">Which.</param>
    /// <param name="why">Why not, in a few words.</param>
    public ProcessorCatalogue NotInside(IEnumerable<string> ids, string why)
    {
        string[] meant = [.. ids];
        Dictionary<string, string> absent = new(Absent);
        List<ProcessorMaker> kept = [];
        foreach (ProcessorMaker maker in makers.Values)
        {
            if (!meant.Contains(maker.Description.Id))
            {
                kept.Add(maker);
            }
            else if (maker.CreateApart is not null)
            {
                kept.Add(maker with { Create = () => throw new InvalidOperationException(why) });
            }
            else
            {
                absent[maker.Description.Id] = why;
            }
        }

        return new ProcessorCatalogue(kept) { Absent = absent };
    }

    /// <summary>Descriptions in the order of their ids.</summary>
    public IEnumerable<ProcessorDescription> Descriptions =>
        makers.Values.Select(maker => maker.Description).OrderBy(description => description.Id, StringComparer.Ordinal);

    /// <summary>The description of a processor, or null when the catalogue has none of that id.</summary>
    public ProcessorDescription? Find(string id) => makers.GetValueOrDefault(id)?.Description;

    /// <summary>True when the code of the processor of that id runs in another process, everywhere or because one place asks for it.</summary>
    public bool RunsApart(string id, bool isAsked = false) => makers.GetValueOrDefault(id) is { } maker && (maker.RunsApart || (isAsked && maker.CreateApart is not null));

    /// <summary>True when the processor of that id can run in another process.</summary>
    public bool CanRunApart(string id) => RunsApart(id, isAsked: true);

    /// <summary>True when the processor of that id did not come with the program.</summary>
    public bool IsOfOthers(string id) => BuildOf(id).Length > 0;

    /// <summary>What tells one build of a processor of others from the next; empty for what comes with the program, or when there is none of that id.</summary>
    public string BuildOf(string id) => makers.GetValueOrDefault(id)?.Build ?? string.Empty;

    /// <summary>A new processor with every parameter at its default, or null when the catalogue has none of that id.</summary>
    /// <param name="id">Which.</param>
    /// <param name="isApart">True to have its code run in another process where it can.</param>
    public Processor? Create(string id, bool isApart = false) =>
        makers.GetValueOrDefault(id) is not { } maker ? null : isApart && maker.CreateApart is { } createApart ? createApart() : maker.Create();
}
